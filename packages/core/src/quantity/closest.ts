/**
 * The known word nearest to what was written, or undefined if none is near: at most a third of the letters may be wrong
 * (a swap of neighbours counts one), regardless of case; a word that begins with what was written counts as near too.
 */
export function closest(word: string, known: readonly string[]): string | undefined {
  if (word.length > 60) return undefined;
  const lower = word.toLowerCase();
  let best: string | undefined;
  let bestDistance = Infinity;
  for (const candidate of known) {
    const distance = editDistance(lower, candidate.toLowerCase());
    if (distance < bestDistance) [best, bestDistance] = [candidate, distance];
  }
  if (best !== undefined && bestDistance <= Math.max(1, Math.floor(Math.max(lower.length, best.length) / 3)))
    return best;
  return lower.length >= 3 ? known.find((candidate) => candidate.toLowerCase().startsWith(lower)) : undefined;
}

/** Restricted Damerau-Levenshtein distance: insert, delete, replace, swap two neighbours. */
function editDistance(a: string, b: string): number {
  let before: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const change = last[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1);
      row[j] = Math.min(change, last[j]! + 1, row[j - 1]! + 1);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        row[j] = Math.min(row[j]!, before[j - 2]! + 1);
    }
    [before, last] = [last, row];
  }
  return last[b.length]!;
}
