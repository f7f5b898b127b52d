import {
  aboutCalibrate,
  calibrateVerdict,
  errorsTabled,
  restsOn,
  type ShownCalibration,
  valuesTabled,
} from '../calibrate-text.js';
import { calibratePicture } from '../charts/calibrate-picture.js';
import { closingSections, dangerAnswers } from './closing.js';
import { chart, list, type Page, tableBlock } from './page.js';

export function calibratePage(shown: ShownCalibration): Page {
  const { rigName, calibration, findings } = shown;
  const { fitted, untold, rig } = calibration;
  return {
    title: `${rigName}: fitted to its log`,
    about: aboutCalibrate({ ...shown, logName: 'its log' }),
    answers: [
      { tone: fitted.length > 0 ? 'good' : 'low', text: calibrateVerdict(calibration) },
      ...dangerAnswers(rig, findings),
    ],
    sections: [
      {
        id: 'values',
        isOpen: true,
        heading: 'What the log tells',
        blocks: [
          tableBlock('Fitted values and their intervals', ...valuesTabled(fitted)),
          list(fitted.map(({ text }) => text)),
        ],
      },
      {
        id: 'check',
        heading: 'Checked on days kept back',
        blocks: [
          chart(calibratePicture(rigName, calibration)),
          tableBlock('Before and after the fit', ...errorsTabled(calibration)),
        ],
      },
      {
        id: 'untold',
        heading: 'What this log cannot tell; the rig keeps its values',
        blocks: [list(untold.map(({ name, why }) => `${name}: ${why}`))],
      },
      ...closingSections(rig, findings, restsOn(shown)),
    ],
  };
}
