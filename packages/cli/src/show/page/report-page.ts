import type { DefaultTaken } from '@stayput/core';
import type { Simulated } from '../simulate-text.js';
import { type Sized, sizeRemarks } from '../size-text.js';
import { type Stayed, stayRemarks } from '../stay-text.js';
import { type Wires, wiresVerdict } from '../wires-text.js';
import { type Yielded, yieldRemarks } from '../yield-text.js';
import { yieldVerdict } from '../yield-words.js';
import { defaultsBlock } from './check-page.js';
import { cautionSection, dangerAnswers, rigSection } from './closing.js';
import { type Block, findingsBlock, heading, joined, list, type Page, type Section, text } from './page.js';
import { plainRemarks } from './plain.js';
import { aboutPage, howLong, runAnswers, runHelps, runRemarks, runSections } from './simulate-page.js';
import { sizeAnswer, sizeSections } from './size-page.js';
import { stayAnswers, stayHelps, staySections } from './stay-page.js';
import { wiresSections } from './wires-page.js';
import { yieldSections } from './yield-page.js';

/** All that is known of a rig and a trip. */
export interface Reported {
  readonly simulated: Simulated;
  readonly stayed: Stayed;
  /** of a rig with panels */
  readonly yielded?: Yielded;
  /** where a parts list was given */
  readonly sized?: Sized;
  readonly wires: Wires;
  readonly defaults: readonly DefaultTaken[];
  /** what the call left open or settled by itself */
  readonly assumed: readonly string[];
}

export function reportPage({ simulated, stayed, yielded, sized, wires, defaults, assumed }: Reported): Page {
  const { rig, run, trip, hasTripFile, findings } = simulated;
  const once = new Set<string>();
  const remarks = (about: string, items: readonly string[]): (Block | undefined)[] => {
    // what holds for several of them is said once
    const news = plainRemarks(items).filter((item) => !once.has(item));
    for (const item of news) once.add(item);
    return news.length > 0 ? [heading(about), list(news)] : [];
  };
  const helps = runHelps(simulated);
  const where = hasTripFile ? trip.name : run.conditions.itinerary.legs[0]!.place.name;
  return {
    title: `${rig.name}: ${where}`,
    about: aboutPage(simulated),
    largest: howLong(run),
    answers: [...runAnswers(simulated), ...stayAnswers(stayed), ...dangerAnswers(rig, findings)],
    helps: helps.length > 0 ? helps : stayHelps(stayed),
    sections: [
      ...runSections(simulated),
      joined('stay', 'How many days one can stay', staySections(stayed)),
      ...(yielded
        ? [led(joined('yield', 'What the panels can give', yieldSections(yielded)), yieldVerdict(rig, yielded.study))]
        : []),
      ...(sized ? [led(joined('size', 'Which parts would do', sizeSections(sized)), sizeAnswer(sized).text)] : []),
      led(joined('wires', 'Cables and fuses', wiresSections(wires)), wiresVerdict(wires)),
      { id: 'findings', heading: 'What to look at in the rig', blocks: [findingsBlock(rig, findings)] },
      rigSection(rig),
      {
        id: 'assumptions',
        heading: 'Assumptions and ranges',
        blocks: [
          ...remarks('The run', [...assumed, ...runRemarks(run)]),
          ...remarks('The stays', stayRemarks(stayed)),
          ...(yielded ? remarks('The yield', yieldRemarks(yielded)) : []),
          ...(sized ? remarks('The sizes', sizeRemarks(sized)) : []),
          defaultsBlock(rig, defaults),
        ],
      },
      cautionSection(rig),
    ],
  };
}

/** A section that begins with its answer. */
function led(section: Section, ...answers: readonly string[]): Section {
  return { ...section, blocks: [...answers.map(text), ...section.blocks] };
}
