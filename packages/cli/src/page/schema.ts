import type { Path } from '@stayput/core/model';

/** What a form looks at of a JSON Schema. */
export interface Schema {
  readonly type?: string | readonly string[];
  readonly description?: string;
  readonly enum?: readonly unknown[];
  readonly const?: unknown;
  readonly examples?: readonly unknown[];
  readonly minimum?: number;
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly required?: readonly string[];
  readonly items?: Schema;
  readonly oneOf?: readonly Schema[];
}

export const isGroup = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** Of several kinds of a part the one that a value is of: as its `kind` says, else the first. */
export function variantOf(schema: Schema, value: unknown): Schema {
  if (!schema.oneOf) return schema;
  const kind = isGroup(value) ? value.kind : undefined;
  return schema.oneOf.find(({ properties }) => properties?.kind?.const === kind) ?? schema.oneOf[0]!;
}

/** Whether the form has a field for it; what is rarer is written in the text. */
export function hasField({ type, enum: choices, properties, oneOf, items }: Schema): boolean {
  if (choices || oneOf) return true;
  if (properties) return true;
  if (type === 'array') return items?.properties !== undefined || items?.oneOf !== undefined;
  return type !== 'object' && type !== undefined;
}

/** What a new part begins with: what must be said of it, as the schema's own examples say it. */
export function exampleOf(schema: Schema): unknown {
  if (schema.const !== undefined) return schema.const;
  if (schema.enum) return schema.enum[0];
  if (schema.oneOf) return exampleOf(schema.oneOf[0]!);
  if (schema.properties) {
    const needed = schema.required ?? [];
    return Object.fromEntries(needed.map((key) => [key, exampleOf(schema.properties![key] ?? {})]));
  }
  if (schema.type === 'array') return [exampleOf(schema.items ?? {})];
  return schema.examples?.[0] ?? schema.minimum ?? (schema.type === 'boolean' ? false : 'new');
}

/** What was typed into a field, as the file holds it; undefined for an empty one, which leaves the default. */
export function typedValue({ type }: Schema, typed: string): unknown {
  const text = typed.trim();
  if (text === '') return undefined;
  const types = typeof type === 'string' ? [type] : (type ?? []);
  if (types.includes('boolean')) return text === 'true';
  const isNumber = types.some((one) => one === 'number' || one === 'integer');
  return isNumber && /^-?\d+(?:\.\d+)?$/.test(text) ? Number(text) : text;
}

/** As errors and defaults name a place in a file: solar[0].tilt */
export const pathText = (path: Path) =>
  path.reduce<string>(
    (text, part) => (typeof part === 'number' ? `${text}[${part}]` : text ? `${text}.${part}` : part),
    '',
  );

/** "noChargeBelow" as "no charge below" */
export const keyWords = (key: string) => key.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);
