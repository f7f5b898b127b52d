import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { folderWith, SUMMER, stayput } from './run-cli.js';

const cwd = fileURLToPath(new URL('../../examples', import.meta.url));
const section = (text: string, heading: string) => text.split('\n\n').find((part) => part.startsWith(heading)) ?? '';

test('simulate explains the battery: usable, what held the charge back, wear and the way back', async () => {
  const said = async (rig: string) => {
    const { stdout, code } = await stayput(['simulate', rig, 'north-west-coast.yaml', '--detail'], { cwd });
    expect(code).toBe(0);
    return section(stdout, 'The battery').replaceAll(/\s+/g, ' ');
  };
  const [lfp, agm] = await Promise.all([said('heron.yaml'), said('heron-agm.yaml')]);
  expect(lfp).toMatch(/of 100 Ah LFP, 80\.0 Ah \(1\.\d\d kWh\) above the floor of 20 %/);
  expect(agm).toMatch(/of 100 Ah AGM, 50\.0 Ah \(6\d\d Wh\) above the floor of 50 %/);
  for (const text of [lfp, agm]) {
    expect(text).toMatch(/On the worst day, \d+ Oct, the sun was the limit \([\d.]+ h\)/);
    expect(text).toMatch(/80 % of its capacity would be left after [\d.]+ to [\d.]+ years/);
    expect(text).toMatch(/Recovery from \d+ % back to the floor of \d+ %, at \d+ °C, takes/);
  }
});

test('simulate --json holds the same, beside the contract’s keys', async () => {
  const { stdout } = await stayput(['simulate', 'heron.yaml', 'north-west-coast.yaml', '--json'], { cwd });
  const { charging, battery, wear, recovery, warnings, summary } = JSON.parse(stdout);
  expect(charging.worstDay.hours.sun).toBeGreaterThan(0);
  expect(charging.text).toContain('On the worst day');
  expect(battery.usableAh).toBeCloseTo(80, 6);
  expect(wear.yearsTo80.low).toBeLessThan(wear.yearsTo80.high);
  expect(recovery).toMatchObject({ fromSoc: summary.lowestSoc, toSoc: 0.2 });
  expect(recovery.driving.minutes).toBeGreaterThan(0);
  expect(warnings.map(({ code }: { code: string }) => code)).toContain('mains_without_charger');
});

test('a frosty week says that the cold was the limit, and a drive what limited the charger', async () => {
  const frost = await stayput(['simulate', 'heron.yaml', 'frost.yaml', '--set', 'battery.stands=outside', '--detail'], {
    cwd,
  });
  expect(section(frost.stdout, 'The battery').replaceAll(/\s+/g, ' ')).toMatch(/not taken: \d+ Wh by the cold/);
  const relay = await stayput(
    ['simulate', 'heron.yaml', 'north-west-coast.yaml', '--set', 'alternator.charger={ kind: relay }', '--detail'],
    { cwd },
  );
  expect(relay.stdout.replaceAll(/\s+/g, ' ')).toMatch(/limited by the small voltage across relay and cables/);
});

test('check RIG TRIP finds mains without a charger', async () => {
  const { stdout } = await stayput(['check', 'heron.yaml', 'north-west-coast.yaml', '--json'], { cwd });
  expect(JSON.parse(stdout).findings).toContainEqual(
    expect.objectContaining({ code: 'mains_without_charger', level: 'caution', path: 'stops[2].mains' }),
  );
});

test('no life is told of lead-acid that is left half empty, with or without a charger: it sulphates', async () => {
  const folder = folderWith({
    'rig.yaml': 'battery: { chemistry: AGM, capacity: 100 Ah }\nloads: [{ name: clock, current: 0.05 A }]\n',
  });
  const left = async (days: string) =>
    (
      await stayput(['simulate', 'rig.yaml', ...SUMMER, '--start-soc', '90', '--days', days, '--detail'], {
        cwd: folder,
      })
    ).stdout.replaceAll(/\s+/g, ' ');
  expect(await left('60')).toMatch(/cannot be told: lead-acid that is not filled sulphates/);
  expect(await left('60')).toMatch(/60 days without a full charge: lead-acid plates sulphate/);
  expect(await left('5')).toMatch(/80 % of its capacity would be left after/);
});
