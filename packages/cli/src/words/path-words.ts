import type { Rig } from '@stayput/core';

/** Names that stand in a path by their place, such as loads[2]. */
export type NamedParts = Pick<Rig, 'solar' | 'loads'>;

/** Words of the files' keys that are more than their letters set apart. */
const KEY_WORDS: Readonly<Record<string, string>> = {
  setpoint: 'set point',
  dcdc: 'DC-DC',
  loads: 'load',
  solar: 'solar',
  stops: 'stop',
};

/**
 * A place of a rig or a trip as people say it: "loads[2].cable" is "pump cable", "battery.maxCharge" is "battery max charge",
 * "stops[1].drive" is "stop 2 drive". For pages and pictures, whose readers may never have seen the file.
 */
export function pathWords(path: string, named: NamedParts): string {
  const { part, keys } = partAndKeys(path, named);
  return keys ? `${part} ${keys}` : part;
}

/** The same in two: the part of the rig, and what of it. */
export function partAndKeys(
  path: string,
  { solar, loads }: NamedParts,
): { readonly part: string; readonly keys: string } {
  const [first = '', ...rest] = path.replace(/\[(\d+)\]/g, '.$1').split('.');
  const named = first === 'solar' ? solar : first === 'loads' ? loads : [];
  const below = rest.join('.');
  // a name may hold dots of its own
  const byName = named.find(({ name }) => below === name || below.startsWith(`${name}.`))?.name;
  const place = /^\d+(?=\.|$)/.exec(below)?.[0];
  const part =
    byName ??
    (place === undefined
      ? wordsOfKey(first)
      : (named[Number(place)]?.name ?? `${wordsOfKey(first)} ${Number(place) + 1}`));
  const taken = byName ?? place;
  const keys = taken === undefined ? below : below.slice(taken.length + 1);
  return { part, keys: keys === '' ? '' : keys.split('.').map(wordsOfKey).join(' ') };
}

function wordsOfKey(key: string): string {
  return KEY_WORDS[key] ?? key.replace(/([a-z])([A-Z])/g, (_, a: string, b: string) => `${a} ${b.toLowerCase()}`);
}
