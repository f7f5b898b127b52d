import type { LogReading } from '@stayput/core';
import { logNoteText, shortfallFact } from '../../words/log-words.js';
import { logFlowPicture, logPicture } from '../charts/log-picture.js';
import { logDaysTabled } from '../log-days.js';
import { logVerdict, readWords, spanWords, timeWords } from '../log-words.js';
import { fixed, percent } from '../number.js';
import { styleFor } from '../style.js';
import { chart, list, type Page, tableBlock, terms } from './page.js';
import { plainRemarks } from './plain.js';

/** How low the battery got. */
function logFigure({ picture: { lowestSoc, lowestV }, span }: LogReading): Page['largest'] {
  const words = `at the lowest, in ${spanWords(span.days)}`;
  if (lowestSoc !== undefined) return { figure: percent(lowestSoc), words };
  return lowestV === undefined ? undefined : { figure: `${fixed(lowestV, 2)} V`, words };
}

export function logPage(reading: LogReading): Page {
  const { shortfall, warnings } = reading;
  const range = logPicture(reading);
  const flow = logFlowPicture(reading);
  const figure = logFigure(reading);
  return {
    title: 'What the log says',
    about: timeWords(reading),
    ...(figure && { largest: figure }),
    answers: [
      ...(shortfall ? [{ tone: 'low', text: shortfallFact(shortfall) } as const] : []),
      { tone: shortfall ? 'low' : 'good', text: logVerdict(reading) },
    ],
    sections: [
      { id: 'range', heading: 'How low and how high', isOpen: true, blocks: [chart(range)] },
      {
        id: 'flow',
        heading: 'In and out',
        isOpen: true,
        blocks: [flow?.id === range?.id ? undefined : chart(flow)],
      },
      {
        id: 'days',
        heading: 'Day by day',
        blocks: [tableBlock('What each day shows', ...logDaysTabled(reading, styleFor(false)))],
      },
      { id: 'read', heading: 'How it was read', blocks: [terms(readWords(reading))] },
      { id: 'know', heading: 'To know', blocks: [list(plainRemarks(warnings.map(logNoteText)))] },
    ],
  };
}
