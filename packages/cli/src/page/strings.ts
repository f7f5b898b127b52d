import type { EndCause } from '@stayput/core/model';
import type { Format } from './format.js';

// Every sentence that the page itself says, in one place. What core finds is worded in ../words, as for every screen.

const MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
] as const;

const ENDS: Readonly<Record<EndCause, string>> = {
  floor: 'the charge reaches the floor you set',
  disconnect: 'the battery is so low that it cuts everything off',
  'fridge cut-out': 'the fridge sees too little voltage and switches itself off',
  overload: 'more power is asked for than the battery may give',
};

const dayWord = (shown: string) => (shown === '1.0' || shown === '1,0' ? 'day' : 'days');

export const WORDS = {
  month: (month: number) => MONTHS[month - 1]!,
  monthShort: (month: number) => MONTHS[month - 1]!.slice(0, 3),
  date: (iso: string) => `${Number(iso.slice(8, 10))} ${MONTHS[Number(iso.slice(5, 7)) - 1]!.slice(0, 3)}`,
  moment: (iso: string) =>
    `${Number(iso.slice(8, 10))} ${MONTHS[Number(iso.slice(5, 7)) - 1]!.slice(0, 3)}, ${iso.slice(11, 16)}`,
  dayWord,
  loading: 'Working out how long you can stay …',
  noScript:
    'This page works the answer out by itself and needs a browser that runs it: open the file in one, instead of a preview.',
  failed: (message: string) =>
    `Something in this page failed: ${message}. What you typed is kept; open the page again.`,
  tabs: { answer: 'Answer', rig: 'Rig', log: 'Log', size: 'Sizing', tonight: 'Tonight' },
  units: { label: 'Units', metric: '°C, kg', imperial: '°F, lb' },
  undo: 'Undo',
  // the answer
  question: (place: string, month: string) => `How long can we stay at ${place} in ${month}?`,
  asLong: 'as long as you like',
  nineInTen: (month: string) => `nine stays in ten last at least this long, in the sun of ${month}`,
  nineInTenNoSun: 'nine stays in ten last at least this long',
  half: 'half of them last',
  dark: 'with no charging at all',
  estimate: 'first estimate, from one weather year',
  working: 'working it out …',
  years: (count: number) => (count === 1 ? 'of one weather year' : `of ${count} weather years`),
  whyEnds: (cause: EndCause, share: number, f: Format) =>
    share > 0.995
      ? `A stay ends when ${ENDS[cause]}.`
      : `${f.percent(share)} of the stays that end do so as ${ENDS[cause]}.`,
  budget: (load: string, sun: string, days: number) =>
    `In the ${days} days below you use ${load} a day, and the sun brings ${sun} a day.`,
  budgetEngine: (engine: string) => `The engine adds ${engine} a day.`,
  spilled: (wh: string) => `Another ${wh} a day of sun found the battery full.`,
  cutFor: (hours: string) => `The loads were cut off for ${hours} of that time.`,
  whenTitle: 'When not',
  when: (endless: string, limited: string) =>
    limited === ''
      ? 'There is no month in which you have to leave.'
      : endless === ''
        ? 'Stays have an end in every month.'
        : `As long as you like in ${endless}. Not in ${limited}.`,
  hardest: (month: string, days: string) => `${month} is the hardest: ${days}.`,
  helpTitle: 'What would help most',
  helpNone: 'Nothing is needed: you can stay as long as you like.',
  helpTry: 'Try it',
  helpGives: (days: string) => `then ${days}, nine times in ten`,
  helpGivesEndless: 'then as long as you like',
  helpEngine: (minutes: number) => `driving ${minutes} minutes every morning`,
  helpMore: (what: string) => `one more ${what}`,
  helpWithout: (load: string) => `doing without “${load}”`,
  helpLittle: 'Nothing small changes much here: it takes more of several things, or another place or month.',
  trouble: 'What to look at in the rig',
  dangers: 'Danger',
  // controls
  controls: 'Change it',
  controlsHint: 'Drag anything; every answer follows.',
  groups: { where: 'Where and when', power: 'Battery and sun', use: 'What you use', engine: 'Driving' },
  place: 'Place',
  placeHint: 'a town, or latitude, longitude',
  placeUnknown: 'This place is not in the table. Write latitude and longitude, such as 41.7, -8.8.',
  stopOf: 'Stop of the trip',
  otherPlace: 'Another place',
  monthLabel: 'Month',
  startMonth: (month: string, year: string) => `${month} ${year}`,
  batteryCapacity: 'Battery, each',
  batteryCount: 'Batteries',
  floor: 'Never below',
  panelPower: (name: string) => `Panel ${name}, each`,
  panelCount: (name: string) => `Panels: ${name}`,
  tilt: (name: string) => `Tilt: ${name}`,
  flat: 'flat',
  datasheetFixes: 'its datasheet says how strong it is',
  addPanel: 'Add a panel',
  gain: 'Cabin above outside, in full sun',
  setpoint: (name: string) => `${name}, kept at`,
  hours: (name: string) => `${name}, hours a day`,
  watts: (name: string) => `${name}, while on`,
  times: (name: string) => `${name}, times a day`,
  driveEvery: 'Drive on',
  never: 'never',
  everyDays: (days: number) => (days === 1 ? 'every day' : `every ${days} days`),
  driveHours: 'Hours of each drive',
  less: (what: string) => `less: ${what}`,
  more: (what: string) => `more: ${what}`,
  licences: 'What this page is made of, and its licences',
  // charts
  charge: 'State of charge',
  chargeAbout: (days: number, from: string, place: string) => `${days} days from ${from}: ${place}`,
  chargeAlt: (lowest: string, at: string, floor: string, off: string) =>
    `The charge is lowest on ${at}, at ${lowest}; the floor is ${floor}. ${off}`,
  neverOff: 'The loads were never cut off.',
  readAt: 'Read the chart at',
  readOut: (at: string, soc: string, sun: string, load: string, engine: string) =>
    `${at}: ${soc} charged, ${sun} from the sun, ${engine}${load} in use`,
  readEngine: (watts: string) => `${watts} from the engine, `,
  floorMark: (floor: string) => `floor ${floor}`,
  tableOf: 'The same as a table',
  day: 'Day',
  lowest: 'lowest',
  highest: 'highest',
  sun: 'sun',
  used: 'used',
  year: 'The year, by months',
  yearAbout:
    'Days that nine stays in ten last at least (full), half of them (pale), and with no charging (line). Touch a month to ask about it.',
  yearCut: (days: number) => `Bars end at ${days} days; an arrow goes beyond.`,
  yearRow: (month: string, p10: string, p50: string, dark: string) =>
    `${month}: nine in ten last ${p10}, half ${p50}, in the dark ${dark}`,
  nine: '9 in 10',
  halfHead: 'half',
  darkHead: 'dark',
  loads: 'What the loads cost',
  loadsAbout: 'Watt-hours a day in the days above, and the days that nine stays in ten would last without each.',
  without: (days: string) => `without it: ${days}`,
  aDay: (wh: string) => `${wh} a day`,
  unserved: (wh: string) => `${wh} of it found no power`,
  // two set-ups
  compare: 'Compare with another set-up',
  compareHint: 'This stays as A; what you change from here on is B.',
  sideBySide: 'Two set-ups side by side',
  setup: (lane: string) => `Set-up ${lane.toUpperCase()}`,
  edit: (lane: string) => `Change ${lane.toUpperCase()}`,
  keep: (lane: string) => `Keep only ${lane.toUpperCase()}`,
  rows: {
    p10: 'nine in ten last',
    p50: 'half last',
    dark: 'in the dark',
    battery: 'battery',
    panels: 'panels',
    use: 'used a day',
    sun: 'sun a day',
    mass: 'battery and panels weigh',
    price: 'they cost',
    hardest: 'hardest month',
  },
  differs: 'differs',
  // the form
  form: 'The rig as a form',
  formAbout: 'What is empty takes the default shown in grey.',
  formMore: (keys: readonly string[]) =>
    `More: ${keys.slice(0, 4).join(', ')}${keys.length > 4 ? ` and ${keys.length - 4} others` : ''}`,
  formAdd: (what: string) => `Add ${what}`,
  formRemove: (what: string) => `Take out ${what}`,
  formDefault: (text: string) => `as usual: ${text}`,
  formUnset: 'not said',
  formExample: (text: string) => `such as ${text}`,
  start: {
    about: 'Four answers make a whole rig of the usual kind, to be changed.',
    chemistry: 'Battery',
    capacityAh: 'Capacity, Ah',
    solarW: 'Panels together, W (0 = none)',
    fridgeL: 'Fridge, litres (0 = none)',
    go: 'Make this rig',
  },
  // the log
  log: {
    title: 'A log of your monitor',
    about: (rig: string, place: string) =>
      `A table as monitors export it: it is read here, on this device, and held against ${rig}, as if at ${place}. Choose rig and place first.`,
    drop: 'Choose a log, or drop it here',
    stages: { reading: 'Reading', comparing: 'Comparing', fitting: 'Fitting the rig to the log' },
    says: 'What the log says',
    rows: (name: string, read: string, days: string, corrected: string, rejected: string) =>
      `${name}: ${read} rows over ${days} days, ${corrected} corrected, ${rejected} rejected.`,
    evidence: (evidence: string, confidence: string) => `Seen in: ${evidence}; confidence ${confidence}.`,
    agrees: (rmse: string) => `The model’s charge is off by ${rmse} (root mean square).`,
    untold: 'What the log cannot tell, and how it was read',
    caution:
      'Hints with their evidence, not a verdict: before anything is taken apart, have a licensed person measure.',
    picture: 'Charge: log and model',
    pictureAbout: 'The model begins where the log does, and is not set right on the way.',
    pictureAlt: (days: number, rmse: string) => `${days} days; the model’s charge is off by ${rmse} on average.`,
    ofLog: 'the log',
    ofModel: 'the model',
    fit: 'Fit the rig to this log',
    fitAbout: 'What the log can tell is fitted on two thirds of its days, and proved on the rest.',
    fitNone: 'This log tells no value of the rig well enough to change it.',
    fitError: (before: string, after: string) =>
      `On the days kept back, the error of the charge goes from ${before} to ${after}.`,
    take: 'Use the fitted rig',
  },
  size: {
    title: 'What to buy',
    about:
      'Weighs what is on the list over the days of the chart, in ten weather years: nights without power against kilograms and price.',
    parts: 'Parts list (invented until you put in yours)',
    go: 'Weigh it',
    working: 'Following every choice …',
    picture: 'Every choice worth a look',
    by: { massKg: 'kilograms', price: 'price' },
    axes: (by: string) => `nights without power (up), ${by} (right)`,
    choose: 'Go through the choices',
    point: (parts: string, mass: string, price: string, nights: number, meets: boolean) =>
      `${parts}: ${mass}, ${price}, ${nights === 0 ? 'no night' : nights === 1 ? 'one night' : `${nights} nights`} without power${meets ? '; meets the target' : ''}`,
    limit: { massKg: 'No heavier than', price: 'No dearer than' },
  },
  // the rig
  rigText: 'The rig as text',
  rigTextHint: 'What the program reads on the command line, byte for byte. Change it here or above: both follow.',
  tripText: 'The trip as text',
  open: 'Open a file',
  save: 'Save',
  copy: 'Copy',
  copied: 'Copied',
  clear: 'Forget what this browser keeps',
  clearHint: 'What you type stays in this browser alone, and nowhere else.',
  clearSure: 'Forget it, and begin again?',
  startNew: 'Start from nothing',
  cannotRead: (name: string, why: string) => `${name} cannot be read: ${why}`,
  tooLarge: 'it is larger than any rig or trip file',
  notText: 'it is no text',
  issues: (count: number) => (count === 1 ? 'One thing to correct:' : `${count} things to correct:`),
  issueAt: (line: number, column: number | undefined) => `line ${line}${column ? `, column ${column}` : ''}`,
  lastGood: 'Shown below is the answer from before, until this is corrected.',
  findings: 'Findings',
  noFindings: 'There is nothing to remark about this rig.',
  described: 'The rig in words',
  defaults: (count: number) => `${count} values are assumed`,
  levels: { note: 'note', caution: 'caution', danger: 'danger' },
  cautionTitle: 'Estimates, not an electrical design',
  caution:
    'Batteries, fuses and cables can burn a vehicle down. Local codes and the makers’ instructions stand above what is shown here; have the installation checked by a licensed person, with a fuse at the battery. A made year is one that could be, not a forecast: do not trust medicine or a life to it.',
} as const;
