import { sizePicture } from '../charts/size-picture.js';
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
    answers: [sizeAnswer(sized), ...dangerAnswers(rig, findings)],
    sections: [...sizeSections(sized), ...closingSections(rig, findings, sizeRemarks(sized))],
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
      blocks: [tableBlock('Choices, lightest first', ...choicesTabled(sized, PLAIN)), text(plain(underChoices(study)))],
    },
    {
      id: 'worksheet',
      heading: 'The same by hand',
      blocks: [tableBlock('The worksheet done by hand, beside it', ...worksheetTabled(study))],
    },
  ];
}
