import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { folderWith, stayput } from './run-cli.js';

const at = (file: string) => fileURLToPath(new URL(`../../examples/${file}`, import.meta.url));
const RIGS = ['heron.yaml', 'heron-agm.yaml', 'thin-cable.yaml', 'log-parked.yaml'];
const WHERE = ['--place', 'Lisbon'];
const DAYS = ['--from', '2026-10-04', '--days', '5'];

const text = async (...args: string[]) => (await stayput(args)).stdout.replaceAll(/\s+/g, ' ');
const json = async (...args: string[]) => JSON.parse((await stayput([...args, '--json'])).stdout);
const number = (said: string) => Number(said.replaceAll(',', ''));

test.each(RIGS)('what two commands say of %s agrees', async (rig) => {
  const check = await json('check', at(rig));
  const checked = await text('check', at(rig));
  const run = await json('simulate', at(rig), ...WHERE, ...DAYS);
  const detail = await text('simulate', at(rig), ...WHERE, ...DAYS, '--detail');
  const short = await text('simulate', at(rig), ...WHERE, ...DAYS);
  const wires = await json('wires', at(rig));
  const yields = await json('yield', at(rig), ...WHERE, '--years', '1');
  const stay = await json('stay', at(rig), ...WHERE, '--years', '1', '--months', 'oct');

  // The findings of a rig, whole in check, are the same wherever they are counted.
  for (const other of [run, stay, yields]) expect(other.findings).toEqual(check.findings);
  const cautions = check.findings.filter(({ level }: { level: string }) => level === 'caution').length;
  for (const said of [short, detail])
    if (cautions > 0)
      expect(said).toContain(`${cautions} caution${cautions === 1 ? '' : 's'}; stayput check says more`);
  // The answer stands in text and JSON, with and without tables.
  for (const said of [short, detail]) expect(said.startsWith(run.verdict.text)).toBe(true);
  // The battery's energy above its floor, in check and in the tables of a run [Wh].
  const above = number(/([\d,]+) Wh of that above the floor/.exec(checked)![1]!);
  const usable = /\(([\d.,]+) (k?)Wh\) above the floor/.exec(detail)!;
  expect((number(usable[1]!) * (usable[2] ? 1000 : 1)) / above).toBeCloseTo(1, 1);
  // A circuit's loss and current in check are those of wires.
  for (const { code, path, text: said } of check.findings) {
    if (code !== 'drop_too_large') continue;
    const circuit = wires.circuits.find((one: { path: string }) => one.path === path);
    expect(said).toContain(`at ${Number(circuit.currentA.toPrecision(3))} A`);
    expect(said).toContain(`${circuit.adviseMm2} mm²`);
  }
  // Hours without power: the headline's are the summary's.
  const flat = run.troubles.find(({ code }: { code: string }) => code === 'ran_flat');
  if (flat) expect(flat.hours).toBeCloseTo(run.summary.hoursOff, 6);
});

const ONE_BOX = `
name: Sanderling
battery: { chemistry: LFP, capacity: 30 Ah, maxCharge: 26 A }
solar: [{ name: roof, power: 110 W, controller: { kind: MPPT, current: 10 A, charge: { absorption: 14.3 V, float: 13.6 V } } }]
alternator: { rating: 120 A, charger: { kind: dcdc, current: 25 A, sharedWithSolar: true, charge: { absorption: 14.3 V, float: 13.6 V } } }
loads: [{ name: lamp, power: 5 W }]
`;

test('solar and DC-DC in one box are never said to give more than the box, and set points are those of the charger that is there', async () => {
  const cwd = folderWith({
    'rig.yaml': ONE_BOX,
    'two.yaml': ONE_BOX.replace('sharedWithSolar: true', 'sharedWithSolar: false'),
  });
  const said = async (file: string) => (await stayput(['check', file], { cwd })).stdout.replaceAll(/\s+/g, ' ');
  expect(await said('rig.yaml')).not.toMatch(/chargers can give/);
  expect(await said('two.yaml')).toMatch(/chargers can give 33 A together, more than the 26 A/);
  expect(await said('rig.yaml')).toContain('charged to 14.3 V, then held at 13.6 V');
  expect(await said('rig.yaml')).not.toContain('14.2 V, then');
  expect(await said('rig.yaml')).toContain('in one box with the solar controller');
});

test('--month and --months are the same word to stay and to size', async () => {
  const where = ['--place', 'Porto', '--years', '1', '--json'];
  const answers = await Promise.all(
    ['--month', '--months'].map((option) => stayput(['stay', at('heron.yaml'), ...where, option, 'jun'])),
  );
  expect(answers[0]!.stdout).toBe(answers[1]!.stdout);
  expect(answers[0]!.code).toBe(0);
});
