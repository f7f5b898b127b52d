import { readFileSync } from 'node:fs';
import { checkRig, readRig, readTrip, simulate } from '@stayput/core';
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

describe('the thin cable of the fridge', () => {
  const thin = (section: string, ...more: string[]) =>
    rigOf('heron-agm.yaml', 'loads.fridge.cable.length=8 m', `loads.fridge.cable.section=${section}`, ...more);
  const ofFridge = (rig: ReturnType<typeof thin>) =>
    checkRig(rig).filter(({ level, path }) => level !== 'note' && path === 'loads[0].cable');
  const early = ['loads.fridge.cutOut=11.4 V', 'loads.fridge.cutIn=12 V'];

  test('8 m of 1.5 mm² is seen, and gone with the section that is advised', () => {
    const found = ofFridge(thin('1.5 mm2'));
    expect(found.length).toBeGreaterThan(0);
    const advised = /use at least ([\d.]+) mm²/.exec(found[0]!.text)![1]!;
    expect(ofFridge(thin(`${advised} mm2`))).toEqual([]);
  });

  test('a cut-out that acts at half charge is told with its drop, and the run shows it until the cable is thick', () => {
    const rig = thin('1.5 mm2', ...early);
    const found = ofFridge(rig).find(({ text }) => text.includes('switches itself off when'))!;
    const [, soc, drop, section] = /still at (\d+) %.* ([\d.]+) V are lost .*; ([\d.]+) mm² or more/.exec(found.text)!;
    expect(Number(soc)).toBeGreaterThan(50);
    // Ohm's law: 8 m out and back of 13.3 Ω/km (IEC 60228 class 5) at about 45 W and 12 V.
    expect(Math.abs(Number(drop) - (45 / 12) * 16 * 0.0133)).toBeLessThan(0.2);
    const cutOuts = (one: typeof rig) => simulate(one, coast).loads.find(({ name }) => name === 'fridge')!.cutOuts!;
    expect(cutOuts(rig)).toBeGreaterThan(0);
    expect(cutOuts(thin(`${section} mm2`, ...early))).toBe(0);
  });
});

test('a datasheet more than 5 % off its nameplate is noted, one within is not', () => {
  const path = 'solar[0].datasheet';
  expect(checkRig(rigOf('heron.yaml')).some((finding) => finding.path === path)).toBe(false);
  const found = checkRig(rigOf('heron.yaml', 'solar[0].datasheet.imp=8.0 A')).find((finding) => finding.path === path)!;
  expect(found.level).toBe('note');
  expect(found.text).toContain('163 W');
});
