import type { LogReading } from '@stayput/core';
import { logNoteText, shortfallText } from '../../words/log-words.js';
import { logFlowPicture, logPicture } from '../charts/log-picture.js';
import { logDaysTabled } from '../log-days.js';
import { logVerdict, readWords, timeWords } from '../log-words.js';
import { styleFor } from '../style.js';
import { chart, list, type Page, tableBlock, terms } from './page.js';
import { plainRemarks } from './plain.js';

export function logPage(reading: LogReading): Page {
  const { shortfall, warnings } = reading;
  const range = logPicture(reading);
  const flow = logFlowPicture(reading);
  return {
    title: 'What the log says',
    about: timeWords(reading),
    answers: [
      ...(shortfall ? [{ tone: 'low', text: shortfallText(shortfall) } as const] : []),
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
