/**
 * An option of the call, as the library names it: `{ name: 'units', key: 'power', value: 'kW' }` is `units: { power: 'kW' }`. A
 * command line or a page calls it by its own name.
 */
export interface OptionNamed {
  readonly name: OptionName;
  /** of an option that holds several values */
  readonly key?: string;
  readonly value?: string;
}

/** The options that errors speak of. */
export type OptionName =
  | 'at'
  | 'calendar'
  | 'columns'
  | 'dateOrder'
  | 'days'
  | 'from'
  | 'ignore'
  | 'part'
  | 'place'
  | 'positive'
  | 'sample'
  | 'set'
  | 'solarSide'
  | 'sort'
  | 'units'
  | 'vary'
  | 'weather'
  | 'years';

/** What would help: words, and between them the options. */
export type Advice = readonly (string | OptionNamed)[];

export function option(name: OptionName, value?: string): OptionNamed;
export function option(name: OptionName, key: string, value: string): OptionNamed;
export function option(name: OptionName, keyOrValue?: string, value?: string): OptionNamed {
  if (value !== undefined) return { name, key: keyOrValue!, value };
  return { name, ...(keyOrValue !== undefined && { value: keyOrValue }) };
}

/** A sentence of advice as a template: `` advice`${option('sort')} sorts them` ``. */
export function advice(texts: TemplateStringsArray, ...between: readonly (string | OptionNamed | Advice)[]): Advice {
  const parts = texts.flatMap((text, k) => [text, ...(k < between.length ? [between[k]!].flat() : [])]);
  const joined: (string | OptionNamed)[] = [];
  for (const part of parts as (string | OptionNamed)[]) {
    const last = joined.at(-1);
    if (typeof part === 'string' && typeof last === 'string') joined[joined.length - 1] = last + part;
    else if (part !== '') joined.push(part);
  }
  return joined;
}

/** An option as the library writes it: `units.power=kW`, `dateOrder dmy`. */
export function optionText({ name, key, value }: OptionNamed): string {
  if (value === undefined) return name;
  return key === undefined ? `${name} ${value}` : `${name}.${key}=${value}`;
}

/** Advice in words. @param named how the caller writes an option */
export function adviceText(parts: Advice, named: (option: OptionNamed) => string = optionText): string {
  return parts.map((part) => (typeof part === 'string' ? part : named(part))).join('');
}

/** Advice as an issue has it: `hint` for whoever calls the library, `advice` for whoever names options in another way. */
export const advised = (parts: Advice): { readonly hint: string; readonly advice: Advice } => ({
  hint: adviceText(parts),
  advice: parts,
});
