import { ConfigError } from './config-error.js';
import { found } from './field.js';
import type { Source } from './source.js';

const SIGNS = {
  rig: ['battery', 'loads', 'solar', 'alternator'],
  trip: ['stops'],
  parts: ['batteries', 'panels', 'chargers'],
  readings: ['totals', 'days', 'moments'],
} as const;
const NAMES = { rig: 'a rig', trip: 'a trip', parts: 'a parts list', readings: 'a file of readings' } as const;

export type FileKind = keyof typeof SIGNS;

/** @throws ConfigError if the top of the file is no group of keys, or those of another kind of file */
export function refuseOtherKind(source: Source, kind: FileKind): void {
  const { value } = source;
  const needs = `${NAMES[kind]} begins with keys such as ${SIGNS[kind][0]}:`;
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    throw new ConfigError([
      source.issue('wrong_type', [], `found ${found(value)} where ${NAMES[kind]} is needed`, needs),
    ]);
  const has = (other: FileKind) => SIGNS[other].some((key) => Object.hasOwn(value, key));
  const other = (Object.keys(SIGNS) as FileKind[]).find((one) => one !== kind && has(one));
  if (other && !has(kind))
    throw new ConfigError([
      source.issue('wrong_file', [], `this is ${NAMES[other]}, and ${NAMES[kind]} is needed here`, needs),
    ]);
}
