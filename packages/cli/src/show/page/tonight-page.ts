import {
  endVerdict,
  spareText,
  spareVerdict,
  timesIn,
  tonightFindingText,
  whenText,
} from '../../words/tonight-words.js';
import { tonightPicture } from '../charts/tonight-picture.js';
import { energy } from '../number.js';
import { oneLine } from '../style.js';
import type { Column } from '../table.js';
import { type Tonight, tonightEntries, tonightHelps } from '../tonight-text.js';
import { closingSections, dangerAnswers } from './closing.js';
import { type Answer, chart, list, type Page, tableBlock, terms } from './page.js';

/** What can be used from now on, answer first. */
export function tonightPage({ rig, study, findings, target }: Tonight): Page {
  const { place, now, chance, loads } = study;
  const isPaid = study.paidBackAtChance !== null;
  const spareWh = isPaid ? study.spareAtChanceWh : study.spareAtEndAtChanceWh;
  const until = isPaid ? 'until the sun has paid the night back' : 'to the end of the days';
  const tone = study.spareAtChanceWh >= 0 ? 'good' : 'bad';
  const columns: Column<(typeof loads)[number]>[] = [
    { head: 'Load', cell: ({ name }) => oneLine(name) },
    { head: 'takes', cell: ({ costWh }) => energy(costWh), align: 'right' },
  ];
  return {
    title: `${rig.name}: what can be used tonight`,
    about: `${whenText(now)} at ${oneLine(place.name)}`,
    largest: {
      figure: spareText(spareWh),
      words: `${spareWh < 0 ? 'lacking' : 'to spare'} ${until}, ${timesIn(chance)}`,
    },
    answers: [
      { tone, text: spareVerdict(rig, study) },
      { tone: study.keeps >= chance ? 'good' : 'low', text: endVerdict(study) },
      ...(target
        ? [
            {
              tone: target.met ? 'good' : 'bad',
              text: `Target ${target.met ? 'met' : 'missed'}: ${target.text}`,
            } as Answer,
          ]
        : []),
      ...dangerAnswers(rig, findings),
    ],
    helps: tonightHelps(study),
    sections: [
      {
        id: 'band',
        heading: 'The next two days',
        isOpen: true,
        blocks: [chart(tonightPicture(rig, study)), list(study.findings.map(tonightFindingText))],
      },
      {
        id: 'loads',
        heading: `What each load takes ${until}`,
        blocks: [tableBlock('Largest first', loads, columns)],
      },
      { id: 'said', heading: 'What it goes by', blocks: [terms(tonightEntries(study).slice(0, 2))] },
      ...closingSections(
        rig,
        findings,
        study.notes.map(({ text }) => text),
      ),
    ],
  };
}
