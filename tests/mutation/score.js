// What a report of Stryker says of a room, as the row of DEVELOPERS.md.

/** 95 % interval of a share seen in a sample. Source: Wilson 1927, J. Am. Stat. Assoc. 22, 209-212. */
export function wilson(seen, of) {
  const z = 1.96;
  const p = seen / of;
  const middle = p + z ** 2 / (2 * of);
  const half = z * Math.sqrt((p * (1 - p)) / of + z ** 2 / (4 * of ** 2));
  return [middle - half, middle + half].map((x) => x / (1 + z ** 2 / of));
}

const percent = (x) => `${(100 * x).toFixed(1)} %`;

const HEAD = `| room | mutants drawn | static | killed | endless | too slow | survived | not reached | score |
| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |`;

/**
 * The score is the share of mutants that the tests noticed: by failing, or by an endless loop, which Stryker tells by a hundred times the usual
 * rounds. Those stopped by the clock do not count as noticed, as a busy machine makes such too; nor do those that no test reaches.
 */
export function tableOf(room, of, mutants) {
  const count = (status) => mutants.filter((mutant) => mutant.status === status).length;
  const [killed, survived, unreached, fixed] = ['Killed', 'Survived', 'NoCoverage', 'Ignored'].map(count);
  const endless = mutants.filter(
    ({ status, statusReason = '' }) => status === 'Timeout' && /^Hit limit/.test(statusReason),
  ).length;
  const slow = count('Timeout') - endless;
  const tried = killed + endless + slow + survived + unreached;
  const interval =
    mutants.length < of
      ? ` (${wilson(killed + endless, tried)
          .map(percent)
          .join(' to ')})`
      : '';
  const score = percent((killed + endless) / tried) + interval;
  const cells = [
    `\`${room}/\``,
    `${mutants.length} of ${of}`,
    fixed,
    killed,
    endless,
    slow,
    survived,
    unreached,
    score,
  ];
  const broken = mutants.length - tried - fixed;
  return `${HEAD}\n| ${cells.join(' | ')} |${broken > 0 ? `\n${broken} more broke the run itself and are in the first column only.` : ''}`;
}
