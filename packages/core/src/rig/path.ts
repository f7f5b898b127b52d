/** Keys and list indexes from the top of a file. */
export type Path = readonly (string | number)[];

/** As written in messages: loads[1].power */
export function pathText(path: Path): string {
  return path.reduce<string>(
    (text, part) => (typeof part === 'number' ? `${text}[${part}]` : text ? `${text}.${part}` : part),
    '',
  );
}
