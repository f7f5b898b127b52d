/**
 * Gives what was made before of the same parts of a rig, or makes it.
 * @param kind  what is made
 * @param reads all of the rig that it is made of; the conditions are the same throughout
 */
export type Memo = <T>(kind: string, reads: unknown, make: () => T) => T;

export const withoutMemo: Memo = (_kind, _reads, make) => make();

/**
 * A memory for variants of a rig under one set of conditions, so that only what a variant changes is worked out again.
 * Parts are compared by their values, every digit of them.
 * @param most kept of each kind, the last ones used; a kind is up to 10 MB a year at 10 min
 */
export function partMemo(most = 4): Memo {
  const kept = new Map<string, Map<string, unknown>>();
  return <T>(kind: string, reads: unknown, make: () => T): T => {
    const known = kept.get(kind) ?? new Map<string, unknown>();
    kept.set(kind, known);
    const key = JSON.stringify(reads, exactly);
    const made = known.has(key) ? (known.get(key) as T) : make();
    known.delete(key); // and in again, as the last one used
    known.set(key, made);
    if (known.size > most) known.delete(known.keys().next().value!);
    return made;
  };
}

/** JSON has no word for no limit, and none for what is absent in a list. */
function exactly(_: string, value: unknown): unknown {
  if (value === undefined) return 'undefined';
  return typeof value === 'number' && !Number.isFinite(value) ? String(value) : value;
}
