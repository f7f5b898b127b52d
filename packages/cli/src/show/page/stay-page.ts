import { stayPicture } from '../charts/stay-picture.js';
import {
  aboutStay,
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
import { styleFor } from '../style.js';
import { closingSections, dangerAnswers } from './closing.js';
import { type Answer, chart, type Page, type Section, tableBlock, text } from './page.js';

const PLAIN = styleFor(false);

export function stayPage(stayed: Stayed): Page {
  const { rig, findings, targets } = stayed;
  return {
    title: `${rig.name}: how many days one can stay`,
    about: aboutStay(stayed),
    answers: [
      ...stayVerdicts(stayed).map((said): Answer => ({ tone: 'good', text: said })),
      ...targets.map(
        ({ met, text: said }): Answer => ({
          tone: met ? 'good' : 'bad',
          text: `Target ${met ? 'met' : 'missed'}: ${said}`,
        }),
      ),
      ...dangerAnswers(rig, findings),
    ],
    sections: [staySection(stayed), ...closingSections(rig, findings, stayRemarks(stayed))],
  };
}

export function staySection(stayed: Stayed): Section {
  const { rig, weather, places, stops } = stayed;
  const [{ study }] = places as [Stayed['places'][number]];
  const isOne = places.length === 1;
  return {
    id: 'stay',
    isOpen: true,
    heading: 'How many days one can stay',
    blocks: [
      chart(stayPicture(rig.name, weather, namedStudies(stayed))),
      stops.length > 0
        ? tableBlock('Days at each stop of the trip, in its month', ...stopsTabled(stops, PLAIN))
        : undefined,
      ...(isOne
        ? [
            tableBlock('Days by the month in which a stay begins', ...stayMonthsTabled(study, true)),
            tableBlock('What it takes to stay longer: days that nine stays in ten last', ...moreTabled(rig, study)),
            text(oneMoreWords(rig, study)),
          ]
        : [tableBlock('Days that nine stays in ten last, by place and month', ...placesTabled(places))]),
    ],
  };
}
