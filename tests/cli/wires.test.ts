import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { filesIn, folderWith, RIG, stayput } from './run-cli.js';

const GREBE = fileURLToPath(new URL('../../examples/thin-cable.yaml', import.meta.url));
const AUTUMN = ['--place', 'Lisbon', '--from', '2026-10-04', '--days', '12', '--seed', '2'] as const;
/** An unfused thick load on a thin cable, and a fuse that protects nothing. */
const HOT = `name: Shrike
battery: { chemistry: LFP, capacity: 200 Ah, cable: { length: 0.5 m, section: 50 mm2, fuse: 150 A } }
loads:
  - { name: heater, power: 500 W, cable: { length: 2 m, section: 2.5 mm2 } }
  - { name: lamp, power: 6 W, cable: { length: 3 m, section: 1 mm2, fuse: 40 A } }
`;
const CAUTION = /estimates, not an electrical design[\s\S]*licensed person[\s\S]*Fuse every circuit/;

test('the answer is the first line, then a row a circuit, the advice, and the cautions', async () => {
  const { stdout, stderr, code } = await stayput(['wires', GREBE]);
  expect({ stderr, code }).toEqual({ stderr: '', code: 0 });
  expect(stdout.split('\n')[0]).toBe('Grebe: 1 of 7 circuits needs a thicker cable: fridge.');
  for (const name of ['battery main', 'roof panel', 'roof controller', 'fridge', 'lights', 'pump', 'phones'])
    expect(stdout).toMatch(new RegExp(`^${name} `, 'm'));
  // IEC 60228 class 5: 14 m of 13.3 ohm/km at 40 degC are 0.2 ohm; 50.3 W at 12 V then draw 4.5 A and lose 0.9 V.
  expect(stdout).toMatch(/^fridge +7 +1\.5 mm² +4\.5 .*7\.6 +11\.1 .*10 +6 mm²$/m);
  expect(stdout.replace(/\s+/g, ' ')).toMatch(
    /its own cut-out at 11\.6 V switches it off though the battery is not empty/,
  );
  expect(stdout).toMatch(CAUTION);
});

test('following the line it ends with mends the fault, in wires and in the run', async () => {
  const { stdout } = await stayput(['wires', GREBE]);
  const setting = /--set "([^"]+)"/.exec(stdout)![1]!;
  const corrected = await stayput(['wires', GREBE, '--set', setting, '--all-ok']);
  expect(corrected.code).toBe(0);
  expect(corrected.stdout.split('\n')[0]).toBe('Grebe: all 7 circuits have a cable that does.');
  const run = async (...more: string[]) => (await stayput(['simulate', GREBE, ...AUTUMN, ...more])).stdout;
  expect((await run()).replace(/\s+/g, ' ')).toMatch(
    /^Thin cable: .*fridge switches itself off for [\d.]+ (h|days), by the drop in its cable alone, with the battery at \d+ % to \d+ %/,
  );
  expect(await run('--set', setting)).not.toMatch(/cut out|switches itself off/);
  const check = (await stayput(['check', GREBE])).stdout.replace(/\s+/g, ' ');
  expect(check).toMatch(
    /fridge switches itself off when the battery is still at \d+ %.*6 mm² or more keeps it running/,
  );
});

test('--json is one document with the keys of the contract', async () => {
  const cwd = folderWith({ 'rig.yaml': RIG });
  for (const rig of [GREBE, 'rig.yaml']) {
    const { stdout, stderr, code } = await stayput(['wires', rig, '--json'], { cwd });
    expect({ stderr, code }).toEqual({ stderr: '', code: 0 });
    const { command, warnings, circuits, cautions, air } = JSON.parse(stdout);
    expect(command).toBe('wires');
    expect(Array.isArray(warnings)).toBe(true);
    expect(air).toEqual({ cabinC: 40, engineC: 50, roofC: 68 });
    expect(cautions).toHaveLength(3);
    for (const circuit of circuits) {
      expect(Object.keys(circuit)).toEqual(
        expect.arrayContaining(
          'name lengthM sectionMm2 currentA dropV dropPercent arrivesV ampacityA fuseA ok adviseMm2'.split(' '),
        ),
      );
      expect(circuit.arrivesV).toBeCloseTo(circuit.sourceV - circuit.dropV, 9);
    }
  }
  const { warnings } = JSON.parse((await stayput(['wires', GREBE, '--json'])).stdout);
  expect(warnings).toMatchObject([{ code: 'drop_too_large', level: 'caution', component: 'fridge' }]);
});

test('danger and cautions are never hidden', async () => {
  const cwd = folderWith({ 'rig.yaml': HOT });
  const quiet = (await stayput(['wires', 'rig.yaml', '--quiet'], { cwd })).stdout;
  expect(quiet.replace(/\s+/g, ' ')).toMatch(
    /^Shrike: heater, lamp can burn as they are; 1 of 3 circuits needs a thicker/,
  );
  expect(quiet).toMatch(/^danger +heater: 49\.4 A is more than 2\.5 mm² may carry/m);
  expect(quiet).toMatch(/^danger +lamp: the 40 A fuse does not protect 1 mm², .*\n +1 A, and never more than 15 A/m);
  expect(quiet).toMatch(CAUTION);
  for (const way of [['--json'], ['--out', 'wires.txt']]) {
    const { stderr } = await stayput(['wires', 'rig.yaml', '--quiet', ...way], { cwd });
    expect(stderr).toMatch(/danger: heater/);
  }
  expect(filesIn(cwd)).toEqual(['rig.yaml', 'wires.txt']);
  expect(readFileSync(`${cwd}/wires.txt`, 'utf8')).toMatch(CAUTION);
});

test('--all-ok misses with a fault, and with a circuit that has no cable; without it the exit code is 0', async () => {
  const cwd = folderWith({ 'rig.yaml': RIG, 'hot.yaml': HOT });
  expect((await stayput(['wires', 'hot.yaml'], { cwd })).code).toBe(0);
  const missed = await stayput(['wires', 'hot.yaml', '--all-ok'], { cwd });
  expect(missed.code).toBe(1);
  expect(missed.stdout).toMatch(/^missed: all ok: heater, lamp must be changed/m);
  const open = await stayput(['wires', 'rig.yaml', '--all-ok', '--json'], { cwd });
  expect(open.code).toBe(1);
  expect(JSON.parse(open.stdout).targets).toMatchObject([{ target: 'all-ok', met: false }]);
  expect(open.stderr).toMatch(/target missed: all ok: no cable is given for/);
});

test('a circuit without a cable is told which would do, and how far', async () => {
  const cwd = folderWith({ 'rig.yaml': RIG });
  const { stdout } = await stayput(['wires', 'rig.yaml'], { cwd });
  expect(stdout.split('\n')[0]).toBe('Wren: no cable is given for any of 5 circuits.');
  expect(stdout).toMatch(/^fridge +3\.8 +10 +0\.75 mm² to 1\.\d m, /m);
});

test('hotter air lowers what a cable carries; air without a unit, or beyond reason, is refused', async () => {
  const ampacity = async (...air: string[]) =>
    JSON.parse((await stayput(['wires', GREBE, '--json', ...air])).stdout).circuits[3].ampacityA;
  expect(await ampacity('--air', '55 degC')).toBeLessThan(await ampacity());
  for (const air of ['55', 'warm', '90 degC']) {
    const { stdout, stderr, code } = await stayput(['wires', GREBE, '--air', air]);
    expect({ stdout, code }).toEqual({ stdout: '', code: 2 });
    expect(stderr).toMatch(/^stayput: --air/);
  }
});

test('what a cable may carry stays in the table, and on a narrow terminal no two circuits are cut to the same name', async () => {
  const relay = `${HOT}alternator: { charger: { kind: relay }, cable: { length: 5 m, section: 10 mm2, fuse: 60 A } }\n`;
  const rows = async (columns: string) => {
    const { stdout } = await stayput(['wires', '-'], { stdin: relay, env: { COLUMNS: columns } });
    return stdout.split('\n\n')[1]!.split('\n');
  };
  expect((await rows('80'))[0]).toMatch(/A max +fuse A/);
  const names = (await rows('60')).map((row) => row.split(/ {2,}/)[0]);
  expect(new Set(names).size).toBe(names.length);
});

test('a gauge is answered with a gauge, and the setting works', async () => {
  const set = 'loads.fridge.cable={ length: 7 m, gauge: 16 AWG }';
  const { stdout } = await stayput(['wires', GREBE, '--set', set]);
  const advice = /--set "([^"]+AWG)"/.exec(stdout)![1]!;
  expect(advice).toMatch(/gauge=(8|10) AWG/);
  expect((await stayput(['wires', GREBE, '--set', set, '--set', advice, '--all-ok'])).code).toBe(0);
});

test('an expression that is wrong is shown with its column', async () => {
  const bad = RIG.replace('power: 10 W, when: sunset to 22:30', 'power: "3 * (cabbin - 24)"');
  const cwd = folderWith({ 'rig.yaml': bad });
  const { stderr, code } = await stayput(['check', 'rig.yaml'], { cwd });
  expect(code).toBe(2);
  expect(stderr).toMatch(/rig\.yaml:11:\d+.*unknown name "cabbin".*character 6.*did you mean cabin\?/);
  for (const evil of ['process.exit(1)', 'import("fs")', 'f(x) = x', 'cabin; soc']) {
    const file = RIG.replace('power: 10 W, when: sunset to 22:30', `power: ${JSON.stringify(evil)}`);
    const refused = await stayput(['check', '-'], { stdin: file });
    expect(refused.code).toBe(2);
    expect(refused.stderr).toMatch(/character \d+ of the expression/);
  }
});

test('a controller whose panels in series stand above what it bears is a danger in check and in wires, and misses --all-ok', async () => {
  // 2 · 24.3 V · (1 + 0.0029 · 35) = 53.5 V at -10 degC
  const rig = (bears: string) => `name: Tern
battery: { chemistry: LFP, capacity: 100 Ah, cable: { length: 0.5 m, section: 35 mm2, fuse: 100 A } }
solar:
  - name: roof
    power: 175 W
    count: 2
    series: 2
    datasheet: { voc: 24.3 V, isc: 9.2 A, vmp: 20.4 V, imp: 8.6 A }
    controller: { current: 30 A, inputVoltage: ${bears} }
    cable: { length: 5 m, section: 6 mm2 }
    outputCable: { length: 1 m, section: 10 mm2 }
loads: [{ name: lamp, power: 6 W, cable: { length: 3 m, section: 1.5 mm2 } }]
`;
  const on = (stdin: string, ...args: string[]) => stayput([args[0]!, '-', ...args.slice(1)], { stdin });
  const wires = await on(rig('50 V'), 'wires', '--all-ok', '--quiet');
  expect(wires.code).toBe(1);
  expect(wires.stdout.replace(/\s+/g, ' ')).toMatch(
    /^Tern: in the cold the panels destroy their controller; all 4 circuits have a cable that does\. missed: .*danger solar\[0\]\.controller\.inputVoltage: 2 panels in series give 53\.5 V at -10 °C/,
  );
  const json = await on(rig('50 V'), 'wires', '--json');
  expect(json.stderr).toMatch(/danger: solar\[0\]\.controller\.inputVoltage/);
  expect(JSON.parse(json.stdout)).toMatchObject({
    warnings: [{ code: 'array_voltage_destroys', level: 'danger' }],
    controllers: [{ level: 'danger', path: 'solar[0].controller.inputVoltage' }],
  });
  const check = (await on(rig('50 V'), 'check')).stdout.replace(/\s+/g, ' ');
  expect(check).toMatch(/: 1 danger,.*danger solar\[0\].*the controller is destroyed, and it can burn/);
  expect((await on(rig('55 V'), 'check')).stdout).toMatch(/^caution solar\[0\]\.controller\.inputVoltage/m);
  const enough = await on(rig('75 V'), 'wires', '--all-ok');
  expect(enough.code).toBe(0);
  expect(enough.stdout.replace(/\s+/g, ' ')).toMatch(/the controller is made for 75 V, which is enough/);
});
