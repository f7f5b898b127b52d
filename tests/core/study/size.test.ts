import { readParts, readRig, type SizeResult, sizeStudy, withoutTrip } from '@stayput/core';
import { describe, expect, test } from 'vitest';
import { assemble } from '../../../packages/core/src/simulate/index.js';
import { weatherYears } from '../../../packages/core/src/simulate/inputs/conditions.js';
import { outcomeOf } from '../../../packages/core/src/study/run/outcome.js';
import { brokenLimits, limitsOf, picksOf } from '../../../packages/core/src/study/size/size-list.js';
import { rigWith } from '../../../packages/core/src/study/size/size-rig.js';
import { Runner, Target } from '../../../packages/core/src/study/size/size-runs.js';
import { SizeYear } from '../../../packages/core/src/study/size/size-year.js';

/** Invented: all kinds of load and charger, so that no column of the loop is left out. */
const FULL_RIG = `
name: Curlew
battery: { chemistry: LFP, capacity: 60 Ah, stands: outside, cable: { length: 0.5 m, section: 25 mm2 } }
solar:
  - { name: roof, power: 100 W, shade: [{ from: "07:00", to: "09:00", keeps: 40 % }], cable: { length: 4 m, section: 4 mm2 } }
alternator: { rating: 90 A, charger: { kind: dcdc, current: 10 A, sharedWithSolar: true }, cable: { length: 5 m, section: 10 mm2 } }
mains: { current: 6 A }
inverter: { rating: 80 W, on: with loads }
loads:
  - { name: fridge, kind: fridge, volume: 45 L, setpoint: 4 degC, insulation: 45 mm, cutOut: 11.2 V, cutIn: 12.2 V, cable: { length: 6 m, section: 2.5 mm2 } }
  - { name: lamp, power: 12 W, when: "18:00 to 23:00" }
  - { name: pump, current: 3 A, hours: 1 }
  - { name: saw, power: 100 W, when: "10:00 to 10:30", inverter: true }
  - { name: dump, power: "soc > 0.95 ? 30 : 0" }
`;
const FULL_PARTS = `
batteries:
  - { name: small, chemistry: LFP, capacity: 40 Ah, heater: { power: 20 W }, mass: 5 kg, price: 200 }
  - { name: lead, chemistry: AGM, capacity: 70 Ah, mass: 20 kg, price: 150 }
panels:
  - { name: flat, power: 90 W, mass: 2 kg, price: 100, area: 0.5 m2 }
  - { name: tilted, power: 60 W, tilt: 30 deg, controller: { kind: PWM }, mass: 4 kg, price: 60, area: 0.4 m2 }
chargers:
  - { name: relay, kind: relay, mass: 0.3 kg, price: 30 }
  - { name: box, kind: dcdc, current: 20 A, mass: 1 kg, price: 150 }
limits: { batteries: 2, panels: 2 }
`;
const PARKED = withoutTrip({ at: '52,7', from: '2025-02-10', days: 9 });
const FULL_TRIP = { ...PARKED, startSoc: 0.8, stops: [{ ...PARKED.stops[0]!, driveH: 1.5, mainsH: 0.5 }] };

describe('a variant put together from shared columns', () => {
  test('lacks power for the same hours as its rig followed by itself, whatever is in it', () => {
    const { rig } = readRig(FULL_RIG);
    const { parts } = readParts(FULL_PARTS);
    const made = weatherYears(rig, FULL_TRIP, { stepH: 0.5 });
    const years = [0, 1].map((yearIndex) => ({
      caseIndex: 0,
      yearIndex,
      year: new SizeYear(rig, made.year(yearIndex)),
      startSoc: FULL_TRIP.startSoc,
    }));
    const runner = new Runner(rig, parts, years, new Target(0, 1, 2, 0.9));
    const picks = picksOf(rig, parts, limitsOf(parts));
    expect(picks.length).toBe(4 * 6 * 3); // batteries 1 or 2 of two kinds; 0 to 2 panels of two kinds; none, relay, box
    let withShortage = 0;
    for (const pick of picks) {
      const variant = runner.variant(pick);
      years.forEach(({ year }, at) => {
        const alone = outcomeOf(assemble(rigWith(rig, parts, pick), year.conditions, FULL_TRIP.startSoc));
        const { hours, lowestSoc } = runner.run(variant, at);
        expect(Math.abs(hours - alone.unservedHours)).toBeLessThan(1e-6);
        expect(Math.abs(lowestSoc - alone.lowestSoc)).toBeLessThan(1e-9);
        if (hours > 1) withShortage++;
      });
    }
    expect(withShortage).toBeGreaterThan(20);
  });
});

/** Invented: little enough to try all of it by brute force. */
const SMALL_RIG = `
name: Dipper
battery: { chemistry: LFP, capacity: 50 Ah }
loads:
  - { name: fridge, kind: fridge, volume: 40 L, setpoint: 4 degC, insulation: 45 mm }
  - { name: lamp, power: 10 W, when: sunset to 23:00 }
`;
const smallParts = (target: string, limits = 'batteries: 2, panels: 3') => `
batteries:
  - { name: L30, chemistry: LFP, capacity: 30 Ah, mass: 4 kg, price: 150 }
  - { name: L50, chemistry: LFP, capacity: 50 Ah, mass: 6 kg, price: 230 }
  - { name: A60, chemistry: AGM, capacity: 60 Ah, mass: 18 kg, price: 110 }
panels:
  - { name: P60, power: 60 W, mass: 1.5 kg, price: 90, area: 0.4 m2 }
  - { name: P100, power: 100 W, mass: 6.5 kg, price: 80, area: 0.6 m2 }
limits: { ${limits} }
target: { ${target} }
`;

/** The front and the marks worked out the plain way: each combination alone, each against each. */
function bruteForce(rigText: string, partsText: string, at: string, from: string, days: number, years: number) {
  const { rig } = readRig(rigText);
  const { parts } = readParts(partsText);
  const trip = withoutTrip({ at, from, days });
  const made = weatherYears(rig, trip, { stepH: 1 });
  const conditions = Array.from({ length: years }, (_, k) => made.year(k));
  const limits = limitsOf(parts);
  const all = picksOf(rig, parts, limits).filter(({ bill }) => brokenLimits(bill, limits, parts).length === 0);
  const tried = all.map((pick) => {
    const hours = conditions.map(
      (one) => outcomeOf(assemble(rigWith(rig, parts, pick), one, trip.startSoc)).unservedHours,
    );
    const failed = hours.filter((h) => h > parts.target.unservedHours + 1e-6).length;
    return { bill: pick.bill, hours: hours.reduce((a, b) => a + b, 0), failed };
  });
  const mayFail = Math.floor(years * (1 - parts.target.years) + 1e-9);
  const weighed = tried.filter(({ hours, failed }) => failed <= mayFail || hours <= 0.05 * days * 24 * years);
  const front = weighed.filter(
    (a) =>
      !weighed.some(
        (b) =>
          b !== a &&
          b.bill.massKg <= a.bill.massKg &&
          b.bill.price <= a.bill.price &&
          b.hours <= a.hours + 1e-6 &&
          b.failed <= a.failed &&
          (b.bill.massKg < a.bill.massKg ||
            b.bill.price < a.bill.price ||
            b.hours < a.hours - 1e-6 ||
            b.failed < a.failed),
      ),
  );
  const meeting = weighed.filter(({ failed }) => failed <= mayFail);
  const least = (key: 'massKg' | 'price') => Math.min(...meeting.map(({ bill }) => bill[key]));
  return { front, meeting, least, rig, parts, trip };
}
const named = ({ parts }: { parts: readonly { name: string; count: number }[] }) =>
  parts.map(({ name, count }) => `${count} ${name}`).join(' + ');

describe('the search', () => {
  test.each([
    ['July at 45 N, no hour', 'unservedHours: 0 h', '45,5', '2025-07-01', 21, 5],
    ['October at 45 N, 8 of 10', 'unservedHours: 0 h, years: 80 %', '45,5', '2025-10-01', 21, 5],
    ['March at 52 N, 12 h allowed', 'unservedHours: 12 h', '52,7', '2025-03-01', 21, 4],
    ['January at 40 N', 'unservedHours: 0 h', '40,-4', '2025-01-05', 28, 4],
    ['June at 35 S', 'unservedHours: 0 h, years: 50 %', '-35,20', '2025-06-01', 14, 6],
  ] as const)('finds what brute force finds: %s', (_, target, at, from, days, years) => {
    const brute = bruteForce(SMALL_RIG, smallParts(target), at, from, days, years);
    const found = sizeStudy(brute.rig, brute.parts, [brute.trip], { years, stepH: 1 });
    expect(new Set(found.choices.filter(({ onFront }) => onFront).map(named))).toEqual(
      new Set(brute.front.map(({ bill }) => named(bill))),
    );
    for (const { bill, hours } of brute.front) {
      const same = found.choices.find((choice) => named(choice) === named(bill))!;
      expect(same.unservedHoursYear).toBeCloseTo(hours / years, 6);
    }
    expect(found.meets).toBe(brute.meeting.length > 0);
    if (!found.meets) return;
    const marked = (mark: 'lightest' | 'cheapest') => found.choices.find(({ marks }) => marks.includes(mark))!;
    expect(marked('lightest').massKg).toBe(brute.least('massKg'));
    expect(marked('cheapest').price).toBe(brute.least('price'));
    expect(found.choices.length + found.lost.length).toBe(6 * 10);
    expect(found.runs.made).toBeLessThan(found.runs.all);
  });

  test('every choice left out says why, and what was counted of it is less than the whole', () => {
    const { rig, parts, trip } = bruteForce(SMALL_RIG, smallParts('unservedHours: 0 h'), '45,5', '2025-10-01', 21, 1);
    const quick = sizeStudy(rig, parts, [trip], { years: 4, stepH: 1 });
    const whole = sizeStudy(rig, parts, [trip], { years: 4, stepH: 1, exhaustive: true });
    const hoursOf = new Map(
      [...whole.choices, ...whole.lost].map((one) => [
        named(one),
        'unservedHoursYear' in one ? one.unservedHoursYear : one.atLeastUnservedHoursYear!,
      ]),
    );
    expect(quick.lost.length).toBeGreaterThan(10);
    for (const one of quick.lost) {
      expect(one.why).toMatch(/^(another does as well|lacks power|over a limit)/);
      expect(one.atLeastUnservedHoursYear ?? 0).toBeLessThanOrEqual(hoursOf.get(named(one))! + 1e-6);
    }
    const front = (result: SizeResult) => result.choices.filter(({ onFront }) => onFront).map(named);
    expect(front(quick)).toEqual(front(whole));
  });

  test('a limit is kept to, and named where it is broken', () => {
    const { rig } = readRig(SMALL_RIG);
    const { parts } = readParts(
      smallParts('unservedHours: 0 h', 'batteries: 2, panels: 3, mass: 12 kg, price: 500, area: 1 m2'),
    );
    const trip = withoutTrip({ at: '45,5', from: '2025-07-01', days: 10 });
    const { choices, lost } = sizeStudy(rig, parts, [trip], { years: 2, stepH: 1 });
    for (const { massKg, price, areaM2 } of choices) expect(massKg <= 12 && price <= 500 && areaM2 <= 1).toBe(true);
    const over = lost.filter(({ reason }) => reason === 'limit');
    for (const { massKg, price, areaM2, why } of over) {
      expect(massKg > 12).toBe(why.includes('mass'));
      expect(price > 500).toBe(why.includes('price'));
      expect(areaM2 > 1 + 1e-9).toBe(why.includes('area'));
    }
    expect(over.length).toBeGreaterThan(0);
  });
});

test('a larger bank can be worse, so that the search must not take more for better', () => {
  const { rig } = readRig(`
name: Dipper
battery: { chemistry: LFP, capacity: 50 Ah }
loads: [{ name: lamp, power: 3 W, when: "18:00 to 24:00" }]`);
  const { parts } = readParts(`
batteries: [{ name: leaky, chemistry: LFP, capacity: 40 Ah, selfDischarge: 50 %, mass: 4 kg, price: 100 }]
panels: [{ name: tiny, power: 8 W, mass: 0.5 kg, price: 20 }]
limits: { batteries: 4, panels: 2 }`);
  const trip = { ...withoutTrip({ at: '45,5', from: '2025-02-01', days: 60 }), startSoc: 0.15 };
  const whole = sizeStudy(rig, parts, [trip], { years: 3, stepH: 1, exhaustive: true });
  const hours = (count: number) => {
    const name = `${count} leaky + 2 tiny`;
    const one = [...whole.choices, ...whole.lost].find((choice) => named(choice) === name)!;
    return 'unservedHoursYear' in one ? one.unservedHoursYear : one.atLeastUnservedHoursYear!;
  };
  expect(hours(4)).toBeGreaterThan(hours(1));
  const quick = sizeStudy(rig, parts, [trip], { years: 3, stepH: 1 });
  const front = (result: SizeResult) => result.choices.filter(({ onFront }) => onFront).map(named);
  expect(front(quick)).toEqual(front(whole));
});

test('the margin of load is borne, and a little more is not', () => {
  const plain = (factor: number) => `
name: Dipper
battery: { chemistry: LFP, capacity: 50 Ah }
loads: [{ name: lamp, power: ${12 * factor} W, when: "18:00 to 24:00" }]`;
  const trip = withoutTrip({ at: '45,5', from: '2025-09-01', days: 14 });
  const { parts } = readParts(smallParts('unservedHours: 0 h'));
  const { rig } = readRig(plain(1));
  const { margins, choices } = sizeStudy(rig, parts, [trip], { years: 5, stepH: 1 });
  const { loadFactor } = margins.find(({ marks }) => marks.includes('lightest'))!;
  const lightest = named(choices.find(({ marks }) => marks.includes('lightest'))!);
  const stillMeets = (factor: number) =>
    sizeStudy(readRig(plain(factor)).rig, parts, [trip], { years: 5, stepH: 1, exhaustive: true }).choices.find(
      (choice) => named(choice) === lightest,
    )?.meets ?? false;
  expect(loadFactor).toBeGreaterThan(1);
  expect(stillMeets(loadFactor)).toBe(true);
  expect(stillMeets(loadFactor + 0.03)).toBe(false);
});

describe('when nothing meets the target', () => {
  const { rig } = readRig(SMALL_RIG);
  const trip = withoutTrip({ at: '45,5', from: '2025-10-01', days: 14 });

  test('it says what comes nearest and which limit stands in the way', () => {
    const { parts } = readParts(smallParts('unservedHours: 0 h', 'batteries: 2, panels: 3, mass: 5.5 kg'));
    const { meets, nearest, binding, smaller } = sizeStudy(rig, parts, [trip], { years: 4, stepH: 1 });
    expect(meets).toBe(false);
    expect(smaller).toBeUndefined();
    expect(nearest!.loadFactor).toBeLessThan(1);
    expect(nearest!.choice.massKg).toBeLessThanOrEqual(5.5);
    expect(binding.map(({ limit }) => limit)).toEqual(['massKg']);
    expect(binding[0]!.needed).toBeGreaterThan(5.5);
  });

  test('a list with all of it over a limit has no choice', () => {
    const { parts } = readParts(smallParts('unservedHours: 0 h', 'batteries: 2, panels: 3, mass: 1 kg'));
    const { meets, choices, nearest, lost } = sizeStudy(rig, parts, [trip], { years: 1, stepH: 1 });
    expect({ meets, choices, nearest }).toEqual({ meets: false, choices: [], nearest: undefined });
    expect(lost.every(({ reason }) => reason === 'limit')).toBe(true);
  });
});

describe('bad input', () => {
  const { rig } = readRig(SMALL_RIG);
  const trip = withoutTrip({ at: '45,5', from: '2025-10-01', days: 3 });
  test.each([
    ['an empty list', 'name: none', /parts list is empty/],
    [
      'another voltage',
      'batteries: [{ name: B, chemistry: LFP, capacity: 50 Ah, series: 2, mass: 1 kg, price: 1 }]',
      /24 V/,
    ],
    [
      'more combinations than can be tried',
      `panels: [${['a', 'b', 'c', 'd', 'e', 'f'].map((name) => `{ name: ${name}, power: 50 W, mass: 1 kg, price: 1 }`).join(', ')}]\nlimits: { panels: 40 }`,
      /50,000 combinations/,
    ],
  ])('%s is refused', (_, list, said) => {
    expect(() => sizeStudy(rig, readParts(list).parts, [trip])).toThrow(said);
  });

  test('more weather years than memory holds are refused with their number', () => {
    const { parts } = readParts(smallParts('unservedHours: 0 h'));
    const year = withoutTrip({ at: '45,5', from: '2025-01-01', days: 365 });
    expect(() => sizeStudy(rig, parts, [year], { years: 100 })).toThrow(/100 weather years of 365 days/);
    expect(() => sizeStudy(rig, parts, [trip], { years: 0.5 })).toThrow(RangeError);
  });
});
