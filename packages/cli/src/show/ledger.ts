import type { Run } from '@stayput/core';
import { fixed } from './number.js';
import { oneLine, type Style } from './style.js';
import { table } from './table.js';

interface Entry {
  readonly name: string;
  readonly wh: number;
  readonly isTotal?: boolean;
}

/** Where each watt-hour came from and where it went; both sides add up to the same. */
export function ledgerLines({ summary, loads }: Run, width: number, style: Style): string[] {
  const { storedChangeWh, days } = summary;
  const cameFrom = present([
    { name: 'sun, at the panels', wh: summary.pvHarvestWh },
    { name: 'alternator', wh: summary.alternatorWh },
    { name: 'mains', wh: summary.mainsWh },
    { name: 'out of the battery', wh: Math.max(0, -storedChangeWh) },
  ]);
  const wentTo = present([
    ...loads.map(({ name, servedWh }) => ({ name: oneLine(name), wh: servedWh })),
    ...Object.entries(summary.lossWh).map(([where, wh]) => ({ name: `lost: ${oneLine(where)}`, wh })),
    { name: 'into the battery', wh: Math.max(0, storedChangeWh) },
  ]);
  const total = (entries: readonly Entry[]) => entries.reduce((sum, { wh }) => sum + wh, 0);
  const allWh = total(cameFrom);
  const decimals = allWh < 100 ? 1 : 0;
  const columns = (head: string) =>
    [
      { head, cell: ({ name }: Entry) => name },
      { head: 'Wh', cell: ({ wh }: Entry) => fixed(wh, decimals), align: 'right' },
      { head: 'a day', cell: ({ wh }: Entry) => fixed(wh / days, decimals), align: 'right', drop: 2 },
      {
        head: 'share',
        cell: ({ wh }: Entry) => (allWh > 0 ? `${fixed((100 * wh) / allWh, 1)} %` : '-'),
        align: 'right',
        drop: 1,
      },
    ] as const;
  // One table, so that the two sides stand in the same columns.
  const rows: Entry[] = [
    ...cameFrom,
    { name: 'came in', wh: allWh, isTotal: true },
    ...wentTo,
    { name: 'went out', wh: total(wentTo), isTotal: true },
  ];
  const [head, ...lines] = table(rows, columns('Energy'), width, style.bold);
  return [head!, ...lines.map((line, k) => (rows[k]!.isTotal ? style.bold(line) : line))];
}

/** Largest first, without the empty ones. */
function present(entries: readonly Entry[]): Entry[] {
  return entries.filter(({ wh }) => Math.abs(wh) >= 0.05).sort((a, b) => b.wh - a.wh);
}
