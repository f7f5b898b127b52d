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
  const first = /^[^.[]*/.exec(path)![0];
  const below = path.slice(first.length);
  const named = first === 'solar' ? solar : first === 'loads' ? loads : [];
  const place = /^\[(\d+)\]/.exec(below);
  // A name may hold dots and brackets of its own, and begin as another does: the longest that fits is meant.
  const byName = named
    .flatMap(({ name }) => waysOfNaming(name).map((written) => ({ name, written })))
    .filter(({ written }) => startsWithKey(below, written))
    .sort((a, b) => b.written.length - a.written.length)[0];
  const part =
    byName?.name ??
    (place === null
      ? wordsOfKey(first)
      : (named[Number(place[1])]?.name ?? `${wordsOfKey(first)} ${Number(place[1]) + 1}`));
  const taken = byName?.written.length ?? place?.[0].length ?? 0;
  const keys = below.slice(taken).match(/[^.[\]]+/g) ?? [];
  return { part, keys: keys.map(wordsOfKey).join(' ') };
}

const waysOfNaming = (name: string) => [
  `.${name}`,
  `."${name}"`,
  `.'${name}'`,
  `[${name}]`,
  `["${name}"]`,
  `['${name}']`,
];

const startsWithKey = (text: string, start: string) =>
  text.startsWith(start) && /^(?:[.[]|$)/.test(text.slice(start.length));

function wordsOfKey(key: string): string {
  return KEY_WORDS[key] ?? key.replace(/([a-z])([A-Z])/g, (_, a: string, b: string) => `${a} ${b.toLowerCase()}`);
}
