import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { folderWith, stayput } from './run-cli.js';

const at = (file: string) => fileURLToPath(new URL(`../../examples/${file}`, import.meta.url));
const RIGS = ['heron.yaml', 'heron-agm.yaml', 'siskin.yaml', 'thin-cable.yaml', 'log-parked.yaml'];
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

const QUICK = ['--years', '1', '--step', '1h'];
const all = (said: string, pattern: RegExp) => [...said.matchAll(pattern)].map(([, found]) => number(found!));
const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);

test.each(RIGS)('what the words of one command say of %s is what the others work with', async (rig) => {
  const checked = await text('check', at(rig));
  const run = await json('simulate', at(rig), ...WHERE, ...DAYS);
  const short = await text('simulate', at(rig), ...WHERE, ...DAYS);
  const wires = await json('wires', at(rig));
  const stay = await json('stay', at(rig), ...WHERE, ...QUICK, '--months', 'oct');
  const stayText = await text('stay', at(rig), ...WHERE, ...QUICK, '--months', 'oct');
  const yields = await json('yield', at(rig), ...WHERE, ...QUICK);
  const tonight = await json('tonight', at(rig), ...WHERE, '--now', '2026-10-04 18:00', '--soc', '60');

  // Zone and place of a name.
  const { name: place, latDeg, lonDeg, elevationM, zone } = run.places[0];
  for (const other of [stay.place, yields.place, tonight.place])
    expect(other).toEqual({ name: place, latDeg, lonDeg, elevationM, zone });
  // The floor.
  const floors = all(checked, /above the floor of ([\d.]+) %/g);
  expect(floors).toEqual([100 * tonight.floor]);
  expect(all(stayText, /to the floor of ([\d.]+) %/g)).toEqual(floors);
  expect(all(short, /floor (?:of )?([\d.]+) %/g).every((floor) => floor === floors[0])).toBe(true);
  // Power of the panels.
  const solar = /Solar: (.*?)(?=Other charging:|Inverter:|Loads:|Cabin:)/.exec(checked)![1]!;
  const arrays = [...solar.matchAll(/: (?:(\d+) × )?([\d.]+) W,/g)].map(([, count = '1', watts]) => [count, watts!]);
  expect(sum(arrays.map(([count, watts]) => number(count!) * number(watts!)))).toBeCloseTo(yields.powerW, 6);
  // Currents of controllers and chargers: a cable carries no more than its box gives.
  const currentOf = (name: RegExp) =>
    wires.circuits.flatMap((one: { name: string; currentA: number }) => (name.test(one.name) ? [one.currentA] : []));
  const controllerA = all(checked, /(?:MPPT|PWM) controller, ([\d.]+) A/g);
  for (const currentA of currentOf(/ controller$/)) expect(currentA).toBeLessThanOrEqual(Math.max(...controllerA));
  const dcdcA = all(checked, /DC-DC charger of ([\d.]+) A/g);
  if (dcdcA.length > 0) expect(currentOf(/^alternator charger$/)).toEqual(dcdcA);
  // What an inverter takes by itself, in the line of the system and in the note.
  const standbyW = all(checked, /Inverter: \d+ W, ([\d.]+) W by itself, always on/g);
  const standbyWh = all(checked, /left on it takes ([\d,]+) Wh a day by itself/g);
  if (standbyWh.length > 0) expect(standbyWh[0]! / 24 / standbyW[0]!).toBeCloseTo(1, 1);
  // Energies of a day on the screen are those of the document.
  const aDay = /Loads ([\d,.]+) Wh a day/.exec(short)!;
  expect(number(aDay[1]!) / (run.summary.loadWh / run.summary.days)).toBeCloseTo(1, 1);
  const fridge = run.loads.find((load: { name: string }) => load.name === 'fridge');
  const fridgeWh = all(short, /fridge ([\d,]+)/g)[0];
  if (fridge && fridgeWh !== undefined) expect(fridgeWh / (fridge.servedWh / run.summary.days)).toBeCloseTo(1, 1);
  // Days in the dark.
  const dark = /([\d.]+) days? (?:or more )?with no charging at all/.exec(stayText);
  expect(number(dark![1]!)).toBeCloseTo(stay.darkDays, stay.darkDays < 9.95 ? 1 : 0);
});

test('a report holds the very answers of the commands that it joins', async () => {
  const report = await json('report', at('heron.yaml'), ...WHERE, ...DAYS, ...QUICK);
  const step = ['--step', '1h'];
  expect(report.simulate).toEqual(await json('simulate', at('heron.yaml'), ...WHERE, ...DAYS, ...step));
  expect(report.stay.darkDays).toBe((await json('stay', at('heron.yaml'), ...WHERE, ...QUICK)).darkDays);
  expect(report.yield.annualKwh).toBe((await json('yield', at('heron.yaml'), ...WHERE, ...QUICK)).annualKwh);
  expect(report.wires).toEqual(await json('wires', at('heron.yaml')));
});

test("the worksheet's load of a day is what a month's run serves, with what the inverter takes", async () => {
  const place = ['--place', 'Porto', '--step', '1h'];
  const sized = await json('size', at('heron.yaml'), at('parts.yaml'), ...place, '--years', '1', '--month', 'oct');
  const [load] = sized.worksheet.lines;
  expect(load.how).toContain('the inverter');
  // Any battery large enough serves them all.
  const large = ['--set', 'battery.count=20'];
  const run = await json('simulate', at('heron.yaml'), ...place, ...large, '--from', '2025-10-01', '--days', '31');
  const { loadWh, unservedWh, lossWh, days } = run.summary;
  expect(unservedWh).toBe(0);
  // The worksheet's fridge never warms up, and its cables lose nothing.
  expect(load.value / ((loadWh + lossWh.inverter) / days)).toBeCloseTo(1, 1);
});
