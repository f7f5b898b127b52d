import type { Block } from './blocks.js';

/** The parts of JSON Schema that core's schemas use. */
export interface SchemaNode {
  readonly type?: string | readonly string[];
  readonly description?: string;
  readonly properties?: Readonly<Record<string, SchemaNode>>;
  readonly required?: readonly string[];
  readonly items?: SchemaNode;
  readonly oneOf?: readonly SchemaNode[];
  readonly enum?: readonly unknown[];
  readonly const?: unknown;
  readonly examples?: readonly unknown[];
  readonly minimum?: number;
  readonly maximum?: number;
}

/**
 * What is taken for a key that is left out, by its path with [] for the items of a list; where only one kind of a
 * group takes it, with that kind before: "fridge:loads[].critical".
 */
export type DefaultWords = ReadonlyMap<string, string>;

/** A section for the file and one for each group of keys in it; a group that several keys share is told once. */
export function schemaBlocks(name: string, schema: SchemaNode, defaults: DefaultWords): Block[] {
  const told = new Map<string, string>();
  return sections('', schema, name, defaults, told);
}

function sections(
  path: string,
  node: SchemaNode,
  heading: string,
  defaults: DefaultWords,
  told: Map<string, string>,
  ofKind = '',
): Block[] {
  const taken = (at: string) => defaults.get(`${ofKind}:${at}`) ?? defaults.get(at);
  const properties = Object.entries(node.properties ?? {});
  const below: Block[] = [];
  const entries = properties.map(([key, child]): [string, string] => {
    const at = path ? `${path}.${key}` : key;
    const { group, isList } = groupOf(child);
    const required = node.required?.includes(key) ?? false;
    if (!group) return [key, leafWords(child, required, taken(at))];
    const seen = JSON.stringify(group);
    const before = told.get(seen);
    const what = before ?? (isList ? `${at}[]` : at);
    if (before === undefined) {
      told.set(seen, what);
      for (const kind of group.oneOf ?? [group]) {
        const word = kind.properties?.kind?.const;
        const of = group.oneOf ? ` with ${word === undefined ? 'no kind' : `kind: ${String(word)}`}` : '';
        const kindBelow = word === undefined ? ofKind : String(word);
        below.push(...sections(what, kind, `${what}${of}: ${kind.description ?? ''}`, defaults, told, kindBelow));
      }
    }
    const see = before === undefined ? 'see below' : `keys as in ${before}`;
    const says = [child.description ?? group.description, isList ? 'a list' : 'a group', see]
      .filter(Boolean)
      .join('; ');
    return [key, withEnds(says, required, taken(at))];
  });
  return [{ heading }, { entries }, ...below];
}

/** The group of keys that a key holds, itself or in a list; lists of plain values have none. */
function groupOf(node: SchemaNode): { group?: SchemaNode; isList: boolean } {
  const isList = node.type === 'array';
  const inside = isList ? node.items : node;
  return inside && (inside.properties || inside.oneOf) ? { group: inside, isList } : { isList };
}

function leafWords(node: SchemaNode, required: boolean, taken: string | undefined): string {
  const range = node.minimum !== undefined && node.maximum !== undefined ? ` (${node.minimum} to ${node.maximum})` : '';
  const choices = node.enum ?? (node.const !== undefined ? [node.const] : undefined);
  const values = choices
    ? choices.map(String).join(', ')
    : node.examples?.length
      ? `such as ${node.examples.map(sample).join(' or ')}`
      : node.type === 'boolean'
        ? 'true or false'
        : undefined;
  const description = (node.description ?? '').replace(node.examples?.length ? / \(an? [^()]*\)$/ : '', '');
  return withEnds([`${description}${range}`, values].filter(Boolean).join(': '), required, taken);
}

const withEnds = (says: string, required: boolean, taken: string | undefined) =>
  `${says}${required ? '; needed' : ''}${taken === undefined ? '' : `. Default ${taken}`}`;

/** A value as it is written in YAML. */
function sample(value: unknown): string {
  if (typeof value !== 'object' || value === null) return String(value);
  if (Array.isArray(value)) return `[${value.map(sample).join(', ')}]`;
  const pairs = Object.entries(value).map(([key, one]) => `${key}: ${sample(one)}`);
  return `{ ${pairs.join(', ')} }`;
}
