import type { Run } from '@stayput/core';
import { DAY_MS } from '@stayput/core/model';
import { remedyTexts } from '../../words/remedy-words.js';
import { warningText } from '../../words/run-words.js';
import { verdict } from '../../words/verdict-words.js';
import { batteryEntries } from '../battery-lines.js';
import { energyPicture } from '../charts/energy-picture.js';
import { fridgePicture } from '../charts/fridge-picture.js';
import { socPicture } from '../charts/soc-picture.js';
import { waterfallPicture } from '../charts/waterfall-picture.js';
import { daysTabled, daysUnit } from '../days-table.js';
import { ledgerTabled } from '../ledger.js';
import { loadsTabled } from '../loads-table.js';
import { daysCounted, energy, fixed, hours, percent } from '../number.js';
import { aboutRun, type Simulated, spreadEntry, summaryEntries } from '../simulate-text.js';
import { oneLine, styleFor } from '../style.js';
import { closingSections, dangerAnswers } from './closing.js';
import { type Answer, chart, heading, list, type Page, type Section, tableBlock, terms } from './page.js';

const PLAIN = styleFor(false);

export function simulatePage(simulated: Simulated): Page {
  const { rig, trip, run, findings, hasTripFile } = simulated;
  const where = hasTripFile ? trip.name : run.conditions.itinerary.legs[0]!.place.name;
  return {
    title: `${rig.name}: ${where}`,
    about: aboutPage(simulated),
    largest: howLong(run),
    answers: [...runAnswers(simulated), ...dangerAnswers(rig, findings)],
    helps: runHelps(simulated),
    sections: [...runSections(simulated), ...closingSections(rig, findings, runRemarks(run))],
  };
}

/** What the run rests on, without what the call left open. */
export function aboutPage(simulated: Simulated): string {
  const { trip } = simulated;
  const weather = trip.weather.kind === 'file' ? { ...trip.weather, path: 'a file' } : trip.weather;
  return aboutRun({ ...simulated, trip: { ...trip, weather }, assumed: [] });
}

/** How long it lasts: until the first of what makes the run a bad one, or to its end. */
export function howLong({ troubles, summary, trace: { grid } }: Run): NonNullable<Page['largest']> {
  const firsts = troubles.flatMap(({ level, firstMs }) => (level === 'bad' && firstMs !== undefined ? [firstMs] : []));
  if (firsts.length === 0)
    return troubles.some(({ level }) => level === 'bad')
      ? { figure: '0 days', words: 'before something fails' }
      : { figure: daysCounted(summary.days), words: 'with power all along' };
  const days = (Math.min(...firsts) - grid.startMs) / DAY_MS;
  return {
    figure: days < 1 ? hours(24 * days) : `${fixed(days, 1)} days`,
    words: `of ${daysCounted(summary.days)}, until something fails`,
  };
}

export function runHelps({ rig, run, remedies }: Simulated): string[] {
  return run.troubles.length > 0 ? remedyTexts(rig, remedies) : [];
}

export function runAnswers({ rig, run, targets }: Simulated): Answer[] {
  const { tone, text } = verdict(rig, run);
  return [
    { tone: tone === 'flat' ? 'bad' : tone, text },
    ...targets.map(
      ({ met, text: said }): Answer => ({
        tone: met ? 'good' : 'bad',
        text: `Target ${met ? 'met' : 'missed'}: ${said}.`,
      }),
    ),
  ];
}

export function runSections(simulated: Simulated): Section[] {
  const { rig, run, recovery, spread } = simulated;
  const name = oneLine(rig.name);
  const { others } = verdict(rig, run);
  return [
    {
      id: 'charge',
      heading: 'State of charge',
      isOpen: true,
      blocks: [
        chart(socPicture(rig, run, spread)),
        ...(others.length > 0 ? [heading('What else went wrong'), list(others)] : []),
        terms([...spreadEntry(simulated), ...summaryEntries(run)]),
      ],
    },
    { id: 'battery', heading: 'The battery', blocks: [terms(batteryEntries(rig, run, recovery))] },
    {
      id: 'energy',
      heading: 'Energy in and out',
      blocks: [
        chart(energyPicture(name, run)),
        tableBlock(daysUnit(run.daily), ...daysTabled(run.daily, rig.battery.floor, PLAIN)),
      ],
    },
    {
      id: 'loads',
      heading: 'Loads',
      blocks: [
        tableBlock('What each load got', ...loadsTabled(run.loads, run.summary.days, PLAIN)),
        chart(fridgePicture(name, run.fridges)),
      ],
    },
    {
      id: 'losses',
      heading: 'Where the energy went',
      blocks: [
        chart(lossPicture(name, run)),
        tableBlock('Each watt-hour, where it came from and where it went', ...ledgerTabled(run)),
      ],
    },
  ];
}

/** From what came in, less what is lost and stored, to what the loads got; the same rows as the ledger's. */
function lossPicture(name: string, run: Run) {
  const [rows] = ledgerTabled(run);
  const allWh = rows.find(({ isTotal }) => isTotal)!.wh;
  const words = (wh: number) => `${energy(wh)}${allWh > 0 ? `, ${shareWords(wh / allWh)}` : ''}`;
  const out = rows.slice(rows.findIndex(({ isTotal }) => isTotal) + 1).filter(({ isTotal }) => !isTotal);
  const taken = out.filter((row) => row.name.startsWith('lost:') || row.name === 'into the battery');
  const servedWh = out.filter((row) => !taken.includes(row)).reduce((sum, { wh }) => sum + wh, 0);
  return waterfallPicture({
    id: 'losses',
    title: `${name}: what is lost on the way`,
    subtitle: `energy of the whole run, from what came in down to what reached the loads`,
    foot: 'An estimate by stayput.',
    bars: [
      { name: 'came in', amount: allWh, isTotal: true, words: energy(allWh) },
      ...taken.map((row) => ({
        name: row.name.replace('lost: ', ''),
        amount: row.wh,
        isTotal: false,
        words: words(row.wh),
      })),
      { name: 'the loads got', amount: servedWh, isTotal: true, words: words(servedWh) },
    ],
  });
}

const shareWords = (share: number) => (share > 0 && share < 0.005 ? '< 1 %' : percent(share));

export function runRemarks({ warnings, conditions }: Run): string[] {
  return [...warnings.map(warningText), ...conditions.notes.map(({ text }) => text)];
}
