import { readFileSync } from 'node:fs';
import { checkRig, type FindingArgs, readRig, readTrip, simulate } from '@stayput/core';
import type { CircuitFindingArgs } from '@stayput/core/model';
import { describe, expect, test } from 'vitest';

const example = (name: string) => readFileSync(new URL(`../../../examples/${name}`, import.meta.url), 'utf8');
const rigOf = (name: string, ...set: string[]) => readRig(example(name), { set }).rig;
const coast = readTrip(example('north-west-coast.yaml')).trip;
const codes = (findings: ReturnType<typeof checkRig>) => findings.map(({ code }) => code);

describe('what a trip offers and the rig cannot take', () => {
  test('mains without a charger, at the stop that plugs in', () => {
    const finding = checkRig(rigOf('heron.yaml'), coast).find(({ code }) => code === 'mains_without_charger')!;
    expect(finding).toMatchObject({ level: 'caution', path: 'stops[2].mains' });
    expect(codes(checkRig(rigOf('heron.yaml', 'mains={ current: 20 A }'), coast))).not.toContain(
      'mains_without_charger',
    );
    expect(codes(checkRig(rigOf('heron.yaml')))).not.toContain('mains_without_charger');
  });

  test('a drive without an alternator', () => {
    const { alternator: _, ...without } = rigOf('heron.yaml');
    const finding = checkRig(without, coast).find(({ code }) => code === 'drive_without_alternator')!;
    expect(finding).toMatchObject({ level: 'note', path: 'stops[0].drive' });
    expect(simulate(without, coast).warnings.map(({ code }) => code)).toContain('drive_without_alternator');
  });
});

describe('what can kill or be killed by voltage', () => {
  const inSeries = (series: number, vocV = 40) =>
    checkRig(
      readRig(`
battery: { chemistry: LFP, capacity: 100 Ah }
solar:
  - power: ${0.8 * vocV * 8.5} W
    count: 2
    series: ${series}
    datasheet: { voc: ${vocV} V, isc: 9 A, vmp: ${0.8 * vocV} V, imp: 8.5 A, tempVoltage: -0.3 %/degC }`).rig,
    ).filter(({ path }) => path === 'solar[0].series');

  test('modules in series are told with their open voltage at -10 degC, and from 60 V on not to be touched', () => {
    expect(inSeries(1)).toEqual([]);
    // IEC 60891: Voc · (1 + β · ΔT) = 2 · 40 V · (1 + 0.003 · 35) = 88.4 V
    const [high] = inSeries(2);
    expect(high).toMatchObject({ level: 'caution' });
    expect(high).toMatchObject({
      code: 'array_voltage_unknown',
      args: { series: 2, coldV: expect.closeTo(88.4, 6), isLive: true, touchV: 60 },
    });
    // 2 · 27 V · 1.105 = 59.7 V
    const [low] = inSeries(2, 27);
    expect(low).toMatchObject({ level: 'note' });
    expect(low).toMatchObject({ args: { isLive: false } });
  });

  test('an inverter makes mains voltage', () => {
    const rig = rigOf('heron.yaml', 'inverter={ rating: 300 W }');
    expect(codes(checkRig(rig))).toContain('inverter_mains_voltage');
  });
});

describe('the thin cable of the fridge', () => {
  const thin = (section: string, ...more: string[]) =>
    rigOf('heron-agm.yaml', 'loads.fridge.cable.length=8 m', `loads.fridge.cable.section=${section}`, ...more);
  const ofFridge = (rig: ReturnType<typeof thin>) =>
    checkRig(rig).filter(({ level, path }) => level !== 'note' && path === 'loads[0].cable');
  const early = ['loads.fridge.cutOut=11.4 V', 'loads.fridge.cutIn=12 V'];

  test('8 m of 1.5 mm² is seen, and gone with the section that is advised', () => {
    const found = ofFridge(thin('1.5 mm2'));
    expect(found.length).toBeGreaterThan(0);
    const { adviseMm2: advised } = found[0]!.args as CircuitFindingArgs;
    expect(ofFridge(thin(`${advised} mm2`))).toEqual([]);
  });

  test('a cut-out that acts at half charge is told with its drop, and the run shows it until the cable is thick', () => {
    const rig = thin('1.5 mm2', ...early);
    const found = ofFridge(rig).find(({ code }) => code === 'fridge_cut_out_early')!;
    const { soc, dropV, sectionMm2 } = found.args as FindingArgs['fridge_cut_out_early'];
    expect(soc).toBeGreaterThan(0.5);
    // Ohm's law: 8 m out and back of 13.3 Ω/km (IEC 60228 class 5) at about 45 W and 12 V.
    expect(Math.abs(dropV - (45 / 12) * 16 * 0.0133)).toBeLessThan(0.2);
    const cutOuts = (one: typeof rig) => simulate(one, coast).loads.find(({ name }) => name === 'fridge')!.cutOuts!;
    expect(cutOuts(rig)).toBeGreaterThan(0);
    expect(cutOuts(thin(`${sectionMm2} mm2`, ...early))).toBe(0);
  });
});

test('a datasheet more than 5 % off its nameplate is noted, one within is not', () => {
  const path = 'solar[0].datasheet';
  expect(checkRig(rigOf('heron.yaml')).some((finding) => finding.path === path)).toBe(false);
  const found = checkRig(rigOf('heron.yaml', 'solar[0].datasheet.imp=8.0 A')).find((finding) => finding.path === path)!;
  expect(found.level).toBe('note');
  expect(found).toMatchObject({ code: 'datasheet_differs', args: { sheetW: expect.closeTo(163.2, 6) } });
});
