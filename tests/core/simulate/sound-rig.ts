import { ConfigError, checkRig, readRig } from '@stayput/core';

/** An invented rig in which nothing is amiss; each case changes what it is about. */
export const SOUND = `
battery: { chemistry: LFP, capacity: 100 Ah, cable: { length: 0.5 m, section: 35 mm2, fuse: 100 A } }
solar: [{ name: roof, power: 200 W, datasheet: { voc: 24 V, isc: 10.5 A, vmp: 20 V, imp: 10 A, tempPower: -0.35 %/degC }, controller: { kind: MPPT, current: 20 A }, cable: { length: 4 m, section: 6 mm2 }, outputCable: { length: 1 m, section: 10 mm2 } }]
loads: [{ name: lamp, power: 10 W, cable: { length: 3 m, section: 2.5 mm2 } }]
`;
export const LEAD = [
  'battery.chemistry=AGM',
  'battery.floor=50 %',
  'battery.disconnect=40 %',
  'battery.reconnect=45 %',
];
export const RELAY =
  'alternator={ rating: 150 A, charger: { kind: relay }, cable: { length: 3 m, section: 70 mm2 }, outputCable: { length: 1 m, section: 70 mm2 } }';
export const DCDC = (rating: number) =>
  `alternator={ rating: ${rating} A, charger: { kind: dcdc, current: 30 A }, cable: { length: 4 m, section: 25 mm2 }, outputCable: { length: 1 m, section: 16 mm2 } }`;
export const INVERTER = (fields: string) =>
  `inverter={ rating: 600 W, standby: 7 W, cable: { length: 1 m, section: 35 mm2 }, ${fields} }`;

export const found = (set: readonly string[]) => checkRig(readRig(SOUND, { set: [...set] }).rig);
export const at = (path: string, set: readonly string[]) => found(set).filter((finding) => finding.path === path);

/** Whether a path leads to something that a rig's file may say: what it then says wrongly is of no account. */
export function isOfFile(path: string): boolean {
  try {
    readRig(SOUND, { set: path === '' ? [] : [`${path}=?`] });
    return true;
  } catch (error) {
    if (!(error instanceof ConfigError)) throw error;
    return error.issues.every(({ code }) => code !== 'unknown_key');
  }
}

/** The code of a finding, and arguments that it must have. */
export type Said = readonly [code: string, args: object];
