import { expect, test } from 'vitest';
import { folderWith, stayput, stayputProcess } from './run-cli.js';

const FILES = {
  'rig.yaml': `
name: Dipper
battery: { chemistry: LFP, capacity: 100 Ah }
solar: [{ power: 100 W }]
loads: [{ name: fridge, kind: fridge, volume: 40 L, setpoint: 4 degC }]
`,
  'trip.yaml': 'name: out\nstops: [{ place: Porto, from: 2026-10-03, nights: 3 }]\n',
  'evening.yaml': 'name: out\nstart: 2026-10-03 18:00\nstops: [{ place: Porto, nights: 3 }]\n',
};
const run = (...args: string[]) => stayput(args, { cwd: folderWith(FILES) });
const json = async (...args: string[]) => JSON.parse((await run(...args, '--json')).stdout);

test('an option, a trip, and an option over a trip start at the same minute with the same answer', async () => {
  const where = ['--place', 'Porto', '--days', '3'];
  const evening = ['--from', '2026-10-03 18:00'];
  const [asked, written, over, afresh] = await Promise.all([
    json('simulate', 'rig.yaml', ...where, ...evening),
    json('simulate', 'rig.yaml', 'evening.yaml'),
    json('simulate', 'rig.yaml', 'trip.yaml', ...evening),
    json('simulate', 'rig.yaml', 'evening.yaml', '--from', '2026-10-03T18:00'),
  ]);
  for (const other of [written, over, afresh]) expect(other.summary).toEqual(asked.summary);
  expect(asked.summary.days).toBe(2.25);
  expect(await json('simulate', 'rig.yaml', 'evening.yaml', '--from', '2026-10-03')).toMatchObject({
    summary: { days: 3 },
  });
});

test('a screen says when it starts, and how long it is', async () => {
  const { stdout } = await run('simulate', 'rig.yaml', 'evening.yaml');
  expect(stdout.replace(/\s+/g, ' ')).toContain('3 Oct 18:00 to 5 Oct 2026; 2.3 days');
});

test('the first row of a trace is the first step from then on', async () => {
  const { stdout } = await run('simulate', 'rig.yaml', 'evening.yaml', '--trace', '-');
  expect(stdout.split('\n')[1]).toMatch(/^2026-10-03T18:00\+01:00,/);
});

test('pages and sweeps start then too', async () => {
  const cwd = folderWith(FILES);
  const varied = ['sweep', 'rig.yaml', 'evening.yaml', '--vary', 'battery.count=1,2', '--json'];
  const sweep = await stayputProcess(varied, { cwd });
  const one = await json('simulate', 'rig.yaml', 'evening.yaml');
  expect(JSON.parse(sweep.stdout).rows[0].lowestSoc).toBeCloseTo(one.summary.lowestSoc, 9);
  expect((await run('simulate', 'rig.yaml', 'evening.yaml', '--report', '-')).stdout).toContain('3 Oct 18:00');
});

test.each(['2026-10-03 24:00', '2026-02-30 08:00', '2026-10-03 8', 'tomorrow'])(
  '--from "%s" is refused',
  async (from) => {
    const { stderr, code } = await run('simulate', 'rig.yaml', '--place', 'Porto', '--from', from);
    expect(code).toBe(2);
    expect(stderr).toContain('2026-10-03 18:00');
  },
);
