import type { YieldStudy } from '@stayput/core';
import { waterfallPicture } from '../charts/waterfall-picture.js';
import { yieldPicture } from '../charts/yield-picture.js';
import { energy, monthNames, percent } from '../number.js';
import { oneLine } from '../style.js';
import {
  aboutYield,
  arraysTabled,
  arrivesWords,
  lightTaken,
  lightTakenTabled,
  setupsTabled,
  type Yielded,
  yearWords,
  yieldMonthsTabled,
  yieldRemarks,
} from '../yield-text.js';
import { setupWords, yieldVerdict } from '../yield-words.js';
import { closingSections, dangerAnswers } from './closing.js';
import { chart, type Page, type Section, tableBlock, text } from './page.js';

export function yieldPage(yielded: Yielded): Page {
  const { rig, study, findings, warnings } = yielded;
  return {
    title: `${rig.name}: what the panels can give`,
    about: aboutYield(yielded),
    largest: { figure: `${energy((1000 * study.annualKwh) / 365)} a day`, words: 'in the mean of a year' },
    answers: [{ tone: 'good', text: yieldVerdict(rig, study) }, ...dangerAnswers(rig, findings)],
    helps: yieldHelps(study),
    sections: [
      ...yieldSections(yielded),
      {
        id: 'setups',
        heading: 'Set up another way',
        blocks: [tableBlock('Yield of other set-ups', ...setupsTabled(study, rig))],
      },
      lightSection(yielded),
      ...closingSections(rig, findings, [...warnings.map(({ text: said }) => said), ...yieldRemarks(yielded)]),
    ],
  };
}

export function yieldSections({ rig, weather, study }: Yielded): readonly Section[] {
  return [
    {
      id: 'yield',
      isOpen: true,
      heading: 'What the panels can give',
      blocks: [chart(yieldPicture(rig.name, weather, study))],
    },
    {
      id: 'sun-months',
      heading: 'The sun, month by month',
      blocks: [
        tableBlock('Light and yield by month', ...yieldMonthsTabled(study, true)),
        text(yearWords(study)),
        study.arrays.length > 1 ? tableBlock('Each array', ...arraysTabled(study)) : undefined,
      ],
    },
  ];
}

/** Set-ups of the same panels that would give more in the darkest month, the one that gives most first. */
function yieldHelps({ setups, months, place }: YieldStudy): string[] {
  const darkest = months.reduce((a, b) => (b.yieldWhDay < a.yieldWhDay ? b : a));
  const now = darkest.yieldWhDay;
  return setups
    .map((setup) => ({ setup, wh: setup.yieldWhDay[darkest.month - 1]! }))
    .filter(({ setup, wh }) => setup.setup !== 'as fitted' && wh > (1 + WORTH_SAYING) * now)
    .sort((a, b) => b.wh - a.wh)
    .map(
      ({ setup, wh }) =>
        `Panels ${setupWords(setup, place.latDeg)}: ${energy(wh)} a day in ${monthNames[darkest.month - 1]!} instead of ${energy(now)}`,
    );
}

const WORTH_SAYING = 0.05;

/** What the panels' light comes to, and what takes the rest: bars of one scale, the longest first. */
export function lightSection({ rig, study }: Yielded): Section {
  const taken = lightTaken(study, rig).filter(({ kwh }) => kwh > 0);
  const { lightKwh, yieldKwh } = study.waterfall;
  const words = (kwh: number) => `${energy((1000 * kwh) / 365)} a day, ${percent(kwh / lightKwh)}`;
  const bars = [{ name: 'arrives', kwh: yieldKwh }, ...taken].map(({ name, kwh }) => ({
    name,
    amount: kwh,
    isTotal: true,
    words: words(kwh),
  }));
  return {
    id: 'light',
    heading: 'What takes some of the light',
    blocks: [
      text(arrivesWords(study)),
      taken.length === 0
        ? undefined
        : chart(
            waterfallPicture({
              id: 'light',
              title: `${oneLine(rig.name)}: what arrives of the light, and what takes the rest`,
              subtitle: 'a mean day of the year, into a battery that is never full',
              foot: 'An estimate by stayput.',
              bars,
            }),
          ),
      tableBlock('What takes the rest, and what helps', ...lightTakenTabled(study, rig)),
    ],
  };
}
