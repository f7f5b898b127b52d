import type { OneMore } from '@stayput/core/model';
import { certainOverloads } from '../../words/overload-words.js';
import { stayPicture } from '../charts/stay-picture.js';
import { monthNames } from '../number.js';
import {
  aboutStay,
  costs,
  moreTabled,
  namedStudies,
  oneMoreWords,
  placesTabled,
  type Stayed,
  stayMonthsTabled,
  stayRemarks,
  stayVerdicts,
  stopsTabled,
} from '../stay-text.js';
import { daysCell, daysText, engineWords } from '../stay-words.js';
import { oneLine, styleFor } from '../style.js';
import { closingSections, dangerAnswers } from './closing.js';
import { type Answer, chart, type Page, type Section, tableBlock, text } from './page.js';

const PLAIN = styleFor(false);

export function stayPage(stayed: Stayed): Page {
  const { rig, findings, targets } = stayed;
  return {
    title: `${rig.name}: how many days one can stay`,
    about: aboutStay(stayed),
    largest: stayFigure(stayed),
    answers: [
      ...stayAnswers(stayed),
      ...targets.map(
        ({ met, text: said }): Answer => ({
          tone: met ? 'good' : 'bad',
          text: `Target ${met ? 'met' : 'missed'}: ${said}`,
        }),
      ),
      ...dangerAnswers(rig, findings),
    ],
    helps: stayHelps(stayed),
    sections: [...staySections(stayed), ...closingSections(rig, findings, stayRemarks(stayed))],
  };
}

/** What nine stays in ten last in the hardest month, or at the hardest stop. */
export function stayFigure({ rig, places, stops }: Stayed): NonNullable<Page['largest']> {
  if (certainOverloads(rig).length > 0) return { figure: '0 days', words: 'before something fails' };
  const [{ study }] = places as [Stayed['places'][number]];
  const { months, hardestMonth, horizonDays } = study;
  const stop = places.length > 1 && stops.reduce((a, b) => (b.parkedDaysP10 < a.parkedDaysP10 ? b : a));
  const { month, parkedDaysP10 } = stop || months.find((row) => row.month === hardestMonth)!;
  const where = stop ? ` at ${oneLine(stop.name)}` : '';
  const which = stop ? ', the hardest stop' : months.length > 1 ? ', the hardest month' : '';
  return {
    figure: daysText(parkedDaysP10, horizonDays),
    words: `${parkedDaysP10 < horizonDays ? 'or longer, ' : ''}nine times in ten,${where} in ${monthNames[month - 1]!}${which}`,
  };
}

/** How long, after whatever no number of days makes up for. */
export function stayAnswers(stayed: Stayed): Answer[] {
  const tone = certainOverloads(stayed.rig).length > 0 ? 'bad' : 'good';
  return stayVerdicts(stayed).map((said) => ({ tone, text: said }));
}

export function staySections(stayed: Stayed): readonly Section[] {
  const { rig, weather, places, stops } = stayed;
  const [{ study }] = places as [Stayed['places'][number]];
  const isOne = places.length === 1;
  return [
    {
      id: 'stay',
      isOpen: true,
      heading: 'How many days one can stay',
      blocks: [
        chart(stayPicture(rig.name, weather, namedStudies(stayed))),
        stops.length > 0
          ? tableBlock('Days at each stop of the trip, in its month', ...stopsTabled(stops, PLAIN))
          : undefined,
      ],
    },
    {
      id: 'months',
      heading: 'Month by month',
      blocks: isOne
        ? [
            tableBlock('Days by the month in which a stay begins', ...stayMonthsTabled(study, true)),
            tableBlock('What it takes to stay longer: days that nine stays in ten last', ...moreTabled(rig, study)),
            text(oneMoreWords(rig, study)),
          ]
        : [tableBlock('Days that nine stays in ten last, by place and month', ...placesTabled(places))],
    },
  ];
}

/** What one more panel, one more battery or the engine would do in the hardest month; nothing where no month is hard. */
export function stayHelps({ rig, places }: Stayed): string[] {
  const [{ study }] = places as [Stayed['places'][number]];
  const { months, hardestMonth, horizonDays, panel, battery } = study;
  const row = months.find(({ month }) => month === hardestMonth);
  if (places.length > 1 || !row || row.indefinite) return [];
  const now = daysCell(row.parkedDaysP10, horizonDays);
  const when = monthNames[hardestMonth - 1]!;
  const longer = (what: string, days: number) =>
    days > row.parkedDaysP10 + 0.05 ? [`${what}: ${daysText(days, horizonDays)} instead of ${now} in ${when}`] : [];
  return [
    ...(row.engineMinutes !== undefined && Number.isFinite(row.engineMinutes) && row.engineMinutes > 0
      ? [`${engineWords(row.engineMinutes)} of driving a day: as long as you like in ${when}`]
      : []),
    ...(panel && row.oneMorePanel ? longer(capital(oneMore(rig, panel)), row.oneMorePanel.parkedDaysP10) : []),
    ...longer(capital(oneMore(rig, battery)), row.oneMoreBattery.parkedDaysP10),
  ];
}

const oneMore = (rig: Stayed['rig'], more: OneMore) => `one more ${oneLine(more.what)}${costs(rig, more)}`;
const capital = (words: string) => words.charAt(0).toUpperCase() + words.slice(1);
