import { sizePicture } from '../charts/size-picture.js';
import { fixed } from '../number.js';
import {
  aboutSize,
  choicesTabled,
  inTheWay,
  type Sized,
  sizeRemarks,
  underChoices,
  worksheetTabled,
} from '../size-text.js';
import { sizeVerdict } from '../size-words.js';
import { styleFor } from '../style.js';
import { closingSections, dangerAnswers } from './closing.js';
import { type Answer, chart, list, type Page, type Section, tableBlock, text } from './page.js';
import { plain } from './plain.js';

const PLAIN = styleFor(false);

export function sizePage(sized: Sized): Page {
  const { rig, findings } = sized;
  return {
    title: `${rig.name}: which parts would do`,
    about: aboutSize(sized),
    largest: sizeFigure(sized),
    answers: [sizeAnswer(sized), ...dangerAnswers(rig, findings)],
    sections: [...sizeSections(sized), ...closingSections(rig, findings, sizeRemarks(sized))],
  };
}

/** What to buy. */
export function sizeFigure({ study: { choices, meets } }: Sized): NonNullable<Page['largest']> {
  const lightest = choices.find(({ marks }) => marks.includes('lightest'));
  if (!meets || !lightest) return { figure: 'Nothing', words: 'of the list would do' };
  const { batteryAh, solarW, massKg } = lightest;
  return {
    figure: `${fixed(batteryAh, 0)} Ah${solarW > 0 ? `, ${fixed(solarW, 0)} W` : ''}`,
    words: `of battery${solarW > 0 ? ' and panels' : ''} would do, ${fixed(massKg, 1)} kg: the lightest of the list`,
  };
}

export function sizeAnswer({ rig, study }: Sized): Answer {
  return { tone: study.meets ? 'good' : 'bad', text: sizeVerdict(study, rig.currency ?? '') };
}

export function sizeSections(sized: Sized): readonly Section[] {
  const { study } = sized;
  return [
    {
      id: 'size',
      isOpen: true,
      heading: 'Which parts would do',
      blocks: [
        study.choices.some(({ onFront }) => onFront)
          ? chart(sizePicture(sized))
          : text('Nothing in the list is within its limits.'),
        list(inTheWay(study)),
      ],
    },
    {
      id: 'choices',
      heading: 'Each choice',
      blocks: [
        tableBlock('What would do, the lightest first', ...choicesTabled(sized, PLAIN)),
        text(plain(underChoices(study))),
      ],
    },
    {
      id: 'worksheet',
      heading: 'The same by hand',
      blocks: [tableBlock('The worksheet done by hand, beside it', ...worksheetTabled(study))],
    },
  ];
}
