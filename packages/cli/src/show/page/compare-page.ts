import { wordedLogFinding } from '../../words/log-finding-words.js';
import { comparePicture, panelHoursPicture } from '../charts/compare-picture.js';
import {
  aboutCompare,
  type Compared,
  compareRemarks,
  compareVerdict,
  daysTabled,
  fitWords,
  gravestFirst,
  hoursTabled,
  isAllWell,
  moreDays,
} from '../compare-text.js';
import { counted } from '../number.js';
import { closingSections, dangerAnswers } from './closing.js';
import { chart, findingsBlock, list, type Page, tableBlock, terms } from './page.js';

/** How many things are not as they should be. */
function compareFigure({ comparison: { findings } }: Compared): NonNullable<Page['largest']> {
  const count = findings.filter(({ level }) => level !== 'note').length;
  return count === 0
    ? { figure: 'All well', words: 'as far as this log tells' }
    : { figure: counted(count, 'thing'), words: count === 1 ? 'is not as it should be' : 'are not as they should be' };
}

export function comparePage(compared: Compared): Page {
  const { rig, comparison, findings } = compared;
  const said = gravestFirst(comparison.findings)
    .map(wordedLogFinding)
    .map(({ level, path, text, evidence, confidence }) => ({
      level,
      path,
      text: `${text} Seen in: ${evidence}. Confidence: ${confidence}.`,
    }));
  return {
    title: `${rig.name}: the log against the model`,
    about: aboutCompare({ ...compared, logName: 'its log' }),
    largest: compareFigure(compared),
    answers: [
      { tone: isAllWell(comparison) ? 'good' : 'low', text: compareVerdict(comparison) },
      ...dangerAnswers(rig, [...comparison.findings.map(wordedLogFinding), ...findings]),
    ],
    sections: [
      { id: 'told', isOpen: true, heading: 'What does not do its job', blocks: [findingsBlock(rig, said)] },
      {
        id: 'agree',
        heading: 'How well the two agree',
        blocks: [terms(fitWords(comparison)), chart(comparePicture(rig.name, comparison))],
      },
      {
        id: 'hours',
        heading: 'By the hour of the day',
        blocks: [
          chart(panelHoursPicture(rig.name, comparison)),
          tableBlock('Log and model by local hour, means', ...hoursTabled(comparison)),
        ],
      },
      {
        id: 'days',
        heading: 'Day by day',
        blocks: [tableBlock('Log and model by day', ...daysTabled(comparison)), list(moreDays(comparison))],
      },
      ...closingSections(rig, findings, compareRemarks(compared)),
    ],
  };
}
