// Names the checks of a bundle of tests/published that fail, as JSON: all, or the first. Run by run.js, a process for each break.
import { createRequire } from 'node:module';

const topics = createRequire(import.meta.url)(process.argv[2]);
const wanted = process.argv[3] === 'all' ? Infinity : 1;
const failed = [];
for (const check of Object.values(topics).flatMap((topic) => Object.values(topic).flat())) {
  if (!check?.fault && check?.cases?.some((one) => !isWithin(check, one))) failed.push(check.quantity);
  if (failed.length === wanted) break;
}
process.stdout.write(JSON.stringify(failed));

/** As `errorOf` and `testChecks` of tests/published have it. */
function isWithin({ tolerance, relative }, one) {
  try {
    const { expected, got } = one;
    const difference = Math.abs(got() - expected);
    return (relative ? difference / Math.abs(expected) : difference) <= tolerance;
  } catch {
    return false;
  }
}
