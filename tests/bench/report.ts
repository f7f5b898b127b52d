/** One figure of a bench. */
export interface Measure {
  readonly name: string;
  readonly value: number;
  readonly unit: string;
  /** what the design asks for */
  readonly goal?: number;
  /** more is better; else less is */
  readonly more?: boolean;
}

/** A table with what was measured last time beside it. */
export function tableOf(measures: readonly Measure[], before: readonly Measure[]): string {
  const rows = measures.map((measure) => {
    const last = before.find((one) => one.name === measure.name);
    return [
      measure.name,
      `${figure(measure.value)} ${measure.unit}`,
      last ? `${change(measure.value / last.value)} since` : '',
      measure.goal === undefined
        ? ''
        : `${measure.value <= measure.goal ? 'within' : 'MISSES'} ${measure.goal} ${measure.unit}`,
    ];
  });
  const widths = [0, 1, 2, 3].map((column) => Math.max(...rows.map((row) => row[column]!.length)));
  return rows
    .map((row) =>
      row
        .map((cell, k) => cell[k === 0 ? 'padEnd' : 'padStart'](widths[k]!))
        .join('  ')
        .trimEnd(),
    )
    .join('\n');
}

function figure(value: number): string {
  return Number(value.toPrecision(3)).toString();
}

function change(ratio: number): string {
  const percent = Math.round((ratio - 1) * 100);
  return `${percent > 0 ? '+' : ''}${percent} %`;
}
