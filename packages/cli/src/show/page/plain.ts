/** What speaks of the program's options or commands, or in the files' own spelling. */
const PROGRAM = /(^|[\s("'])--[a-z]|\bstayput [a-z]|\{[^}]*:|^ \([a-z][A-Za-z]*: |\b[a-z]+\.[a-z]+[A-Z]\w*/;

/**
 * Remarks as a page has them: its readers may never have seen a command line or a rig file, so clauses and brackets that speak of these
 * are left out, and what says nothing else is left out whole.
 */
export function plainRemarks(remarks: readonly string[]): string[] {
  return remarks.map(plain).filter((remark) => remark !== '');
}

export function plain(remark: string): string {
  const withoutBrackets = remark.replace(/ \([^()]*\)/g, (inside) => (PROGRAM.test(inside) ? '' : inside));
  return withoutBrackets
    .split(/(?<=[;.]) |(?=, so say )/)
    .filter((clause) => !PROGRAM.test(clause))
    .join(' ')
    .replace(/ (?=,)/g, '')
    .replace(/[;,]$/, '');
}
