import { expect, test } from 'vitest';
import { folderWith, SUMMER, stayput } from './run-cli.js';

const rig = (load: string, inverter = 2000) => `
name: Dunnock
battery: { chemistry: LFP, capacity: 100 Ah }
solar: [{ power: 400 W }]
inverter: { rating: ${inverter} W, on: with loads }
loads:
  - ${load}
  - { name: lamp, power: 5 W, when: "20:00 to 22:00" }
`;
const run = (content: string, ...args: string[]) =>
  stayput([args[0]!, 'rig.yaml', ...args.slice(1)], { cwd: folderWith({ 'rig.yaml': content }) });
const oneLine = (text: string) => text.replace(/\s+/g, ' ');

test.each(['', ', when: "18:00 to 18:12"', ', when: "18:00 to 19:00"'])(
  'a hob that the battery cannot feed has the same verdict and exit code, whatever its times: %s',
  async (when) => {
    const hob = rig(`{ name: hob, power: 1800 W, hours: 0.2, inverter: true${when} }`);
    const { stdout, code } = await run(hob, 'simulate', ...SUMMER, '--never-off');
    expect(code).toBe(1);
    expect(oneLine(stdout)).toMatch(
      /^Overload: hob asks for 1,9\d\d W of the battery, 1[4-6]\d A, more than the 100 A that it may give: it cuts everything off/,
    );
    expect(oneLine(stdout)).not.toMatch(/Runs flat on/);
    expect(oneLine((await run(hob, 'check')).stdout)).toMatch(/danger loads\[0\]: hob asks for/);
  },
);

test('a kettle above the inverter is a danger in check and its own headline in simulate', async () => {
  const kettle = rig('{ name: kettle, power: 1000 W, hours: 0.2, inverter: true }', 600);
  expect(oneLine((await run(kettle, 'check')).stdout)).toMatch(
    /danger loads\[0\]: kettle asks for 1,000 W, more than the inverter's 600 W/,
  );
  const { stdout, code } = await run(kettle, 'simulate', ...SUMMER, '--never-off', '--json');
  expect(code).toBe(1);
  expect(JSON.parse(stdout).warnings).toContainEqual({
    component: 'inverter',
    code: 'inverter_overload',
    args: { names: ['kettle'], askedW: 1000, ratingW: 600 },
    text: "kettle asks for 1,000 W, more than the inverter's 600 W: it switches off; use an inverter of 1,000 W or more",
  });
  expect(oneLine((await run(kettle, 'simulate', ...SUMMER)).stdout)).toMatch(/^Overload: kettle asks for 1,000 W/);
});

test('stay says an overload before any number of days, and misses its target by it', async () => {
  const hob = rig('{ name: hob, power: 1800 W, hours: 0.2, inverter: true }');
  const where = ['--place', 'Porto', '--months', 'jul', '--years', '1'];
  const { stdout, code } = await run(hob, 'stay', ...where, '--at-least', '1', '--quiet');
  expect(code).toBe(1);
  expect(oneLine(stdout)).toMatch(/^Overload, on every stay: hob asks for 1,9\d\d W of the battery/);
});

test('size takes no battery that cannot feed a load at its full power', async () => {
  const parts = `
name: list
batteries:
  - { name: small, chemistry: LFP, capacity: 100 Ah, mass: 11 kg, price: 400 }
panels:
  - { name: flat, power: 175 W, mass: 3 kg, price: 190 }
limits: { batteries: 2, panels: 4 }
`;
  const cwd = folderWith({
    'rig.yaml': rig('{ name: hob, power: 1800 W, hours: 0.2, inverter: true }'),
    'parts.yaml': parts,
    'one.yaml': parts.replace('batteries: 2', 'batteries: 1'),
  });
  const call = (list: string) =>
    stayput(['size', 'rig.yaml', list, '--place', 'Porto', '--month', 'jul', '--years', '1', '--json'], { cwd });
  const { choices, lost, meets } = JSON.parse((await call('parts.yaml')).stdout);
  expect(meets).toBe(true);
  expect(choices.every(({ batteryAh }: { batteryAh: number }) => batteryAh === 200)).toBe(true);
  expect(lost.filter(({ reason }: { reason: string }) => reason === 'overload').length).toBeGreaterThan(0);
  const one = await call('one.yaml');
  expect(JSON.parse(one.stdout)).toMatchObject({ meets: false, tooStrongLoad: 'hob' });
});
