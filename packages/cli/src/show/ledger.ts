import type { Run } from '@stayput/core';
import { fixed } from './number.js';
import { oneLine, type Style } from './style.js';
import { type Column, type Tabled, table } from './table.js';

export interface Entry {
  readonly name: string;
  readonly wh: number;
  readonly isTotal?: boolean;
}

/** Where each watt-hour came from and where it went; both sides add up to the same. */
export function ledgerLines(run: Run, width: number, style: Style): string[] {
  // One table, so that the two sides stand in the same columns.
  const [rows, columns] = ledgerTabled(run);
  const [head, ...lines] = table(rows, columns, width, style.bold);
  return [head!, ...lines.map((line, k) => (rows[k]!.isTotal ? style.bold(line) : line))];
}

export function ledgerTabled({ summary, loads }: Run): Tabled<Entry> {
  const { storedChangeWh, days, lossWh } = summary;
  const cameFrom = [
    { name: 'sun, at the panels', wh: summary.pvHarvestWh },
    { name: 'alternator', wh: summary.alternatorWh },
    { name: 'mains', wh: summary.mainsWh },
    { name: 'out of the battery', wh: Math.max(0, -storedChangeWh) },
  ];
  const served = loads.map(({ name, servedWh }) => ({ name: oneLine(name), wh: servedWh }));
  const lost = Object.entries(lossWh).map(([where, wh]) => ({ name: `lost: ${lossName(where)}`, wh }));
  const stored = { name: 'into the battery', wh: Math.max(0, storedChangeWh) };
  const allWh = total(cameFrom);
  const decimals = allWh < 100 ? 1 : 0;
  const minWh = 0.5 * 10 ** -decimals;

  const columns: Column<Entry>[] = [
    { head: 'Energy', cell: ({ name }) => name },
    { head: 'Wh', cell: ({ wh }) => fixed(wh, decimals), align: 'right' },
    { head: 'a day', cell: ({ wh }) => fixed(wh / days, decimals), align: 'right', drop: 2 },
    {
      head: 'share',
      cell: ({ wh }) => (allWh > 0 ? `${fixed((100 * wh) / allWh, 1)} %` : '-'),
      align: 'right',
      drop: 1,
    },
  ];
  const rows: Entry[] = [
    ...shown(cameFrom, minWh, 'from elsewhere'),
    { name: 'came in', wh: allWh, isTotal: true },
    ...shown(served, minWh, 'other loads'),
    ...shown(lost, minWh, 'lost: elsewhere'),
    ...shown([stored], minWh, stored.name),
    { name: 'went out', wh: total([...served, ...lost, stored]), isTotal: true },
  ];
  return [rows, columns];
}

const total = (entries: readonly Entry[]) => entries.reduce((sum, { wh }) => sum + wh, 0);

/** Largest first; those that would read as 0 are put together under one name. */
function shown(entries: readonly Entry[], minWh: number, restName: string): Entry[] {
  const isLarge = ({ wh }: Entry) => Math.abs(wh) >= minWh;
  const rest = { name: restName, wh: total(entries.filter((entry) => !isLarge(entry))) };
  return [...entries.filter(isLarge).sort((a, b) => b.wh - a.wh), ...[rest].filter(isLarge)];
}

/** "solarController" as "solar controller", "dcdcCable" as "DC-DC cable". */
export function lossName(key: string): string {
  return oneLine(key.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`).replace(/^dcdc\b/, 'DC-DC'));
}
