import { ConfigError, jsonSchemas } from '@stayput/core';
import type { Draw } from './random.js';
import { KEYS, NUMBERS } from './words.js';

interface Schema {
  readonly type?: string | readonly string[];
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly required?: readonly string[];
  readonly items?: Schema;
  readonly oneOf?: readonly Schema[];
  readonly enum?: readonly unknown[];
  readonly const?: unknown;
  readonly examples?: readonly unknown[];
  readonly minimum?: number;
  readonly maximum?: number;
}

type Json = null | string | number | boolean | Json[] | { [key: string]: Json };

const SCHEMAS = jsonSchemas() as Readonly<Record<'rig' | 'trip' | 'parts', Schema>>;
const REPAIRS = 8;

/**
 * A file grown from its schema, with values of any size, and then corrected as its own errors say: what is out of range is put
 * on an end of the range. So most files are read, and stand at the corners of what may be written.
 */
export function grown(kind: 'rig' | 'trip' | 'parts', read: (text: string) => unknown, draw: Draw): string {
  const value = grow(SCHEMAS[kind], draw, draw.next()) as { [key: string]: Json };
  const wild = draw.chance(0.1);
  if (wild) value[draw.one(KEYS)] = draw.one(NUMBERS);
  for (let round = 0; round < REPAIRS && !wild; round++)
    try {
      read(JSON.stringify(value));
      break;
    } catch (error) {
      // what it was is found again when the text is tried
      if (!(error instanceof ConfigError)) break;
      for (const issue of error.issues) mend(value, kind, issue, draw);
    }
  return JSON.stringify(value, null, draw.chance(0.5) ? 1 : 0);
}

function grow(schema: Schema, draw: Draw, fill: number): Json {
  if (schema.const !== undefined) return schema.const as Json;
  if (schema.enum) return draw.one(schema.enum) as Json;
  if (schema.oneOf) return grow(draw.one(schema.oneOf), draw, fill);
  const { properties } = schema;
  if (properties)
    return Object.fromEntries(
      Object.entries(properties).flatMap(([key, of]) =>
        key === 'name'
          ? [[key, `part ${draw.whole(1e6)}`]]
          : schema.required?.includes(key) || draw.chance(fill * 0.6)
            ? [[key, grow(of, draw, fill)]]
            : [],
      ),
    );
  const type = Array.isArray(schema.type) ? draw.one(schema.type) : schema.type;
  if (type === 'array' && schema.items)
    return Array.from({ length: 1 + draw.whole(3) }, () => grow(schema.items!, draw, fill));
  if (type === 'boolean') return draw.chance(0.5);
  if (type === 'integer' || type === 'number') {
    const { minimum = 0, maximum = 100 } = schema;
    const value = draw.one([minimum, maximum, minimum + draw.next() ** 3 * (maximum - minimum)]);
    return type === 'integer' ? Math.round(value) : value;
  }
  const sample = schema.examples ? draw.one(schema.examples) : 'word';
  if (typeof sample !== 'string') return structuredClone(sample) as Json;
  return draw.chance(0.5) ? sample : sample.replace(/-?\d+(?:\.\d+)?/, () => extreme(draw));
}

function extreme(draw: Draw): string {
  return draw.chance(0.3) ? draw.one(NUMBERS) : String(Number(((draw.next() * 4) ** draw.whole(8)).toPrecision(3)));
}

interface Issue {
  readonly code: string;
  readonly path: string;
  readonly message: string;
}

/** Puts an end of the range that the message names, or what the schema shows, where an issue was; or takes that away. */
function mend(root: { [key: string]: Json }, kind: keyof typeof SCHEMAS, issue: Issue, draw: Draw): void {
  if (issue.path === '') Object.assign(root, kind === 'rig' && { loads: [{ name: 'lamp', power: '10 W' }] });
  const steps = (issue.path.match(/[^.[\]]+/g) ?? []).map((step) => (/^\d+$/.test(step) ? Number(step) : step));
  const last = steps.pop();
  const at = steps.reduce<unknown>((group, step) => (isGroup(group) ? group[step] : undefined), root);
  if (!isGroup(at) || last === undefined) return;
  const limit = bound(issue, draw);
  const schema = [...steps, last].reduce<Schema | undefined>(
    (above, step) => (typeof step === 'number' ? above?.items : partOf(above, step)),
    SCHEMAS[kind],
  );
  if (limit !== undefined) at[last] = limit;
  else if (schema && issue.code !== 'contradiction' && issue.code !== 'unknown_key' && draw.chance(0.8))
    at[last] = plain(schema, draw);
  else if (Array.isArray(at)) at.splice(Number(last), 1);
  else delete at[last];
}

function isGroup(value: unknown): value is Record<string | number, Json> {
  return typeof value === 'object' && value !== null;
}

function partOf(schema: Schema | undefined, key: string): Schema | undefined {
  return [schema, ...(schema?.oneOf ?? [])].find((one) => one?.properties?.[key])?.properties?.[key];
}

function bound({ code, message }: Issue, draw: Draw): string | number | undefined {
  const range = /is out of range: (.+) to (.+?)(?: \(|$)/.exec(message);
  if (code !== 'out_of_range' || !range) return undefined;
  const text = draw.one([range[1]!, range[2]!]).replaceAll(',', '');
  return /^-?[\d.]+$/.test(text) ? Number(text) : text;
}

/** The least that the schema asks for, with its own examples. */
function plain(schema: Schema, draw: Draw): Json {
  if (schema.oneOf) return plain(draw.one(schema.oneOf), draw);
  if (schema.const !== undefined) return schema.const as Json;
  const { properties, required = [] } = schema;
  if (properties)
    return Object.fromEntries(
      required.map((key) => [key, key === 'name' ? `part ${draw.whole(1e6)}` : plain(properties[key]!, draw)]),
    );
  if (schema.enum) return draw.one(schema.enum) as Json;
  if (schema.items) return [plain(schema.items, draw)];
  return (schema.examples?.[0] ?? schema.minimum ?? true) as Json;
}
