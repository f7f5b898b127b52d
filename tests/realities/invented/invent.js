// Draws an invented vehicle: what is really so, and what its careful owner would write about it, with a careful owner's errors.

import { watched, written } from './monitor.js';
import { randomOf } from './random.js';
import { skyOf } from './sky.js';
import { live, sheetWh } from './vehicle.js';

const PLACES = [
  [37.1, -8.2, 'Europe/Lisbon'],
  [39.6, 3.1, 'Europe/Madrid'],
  [43.2, 5.6, 'Europe/Paris'],
  [47.4, 8.9, 'Europe/Zurich'],
  [52.3, 13.9, 'Europe/Berlin'],
  [54.8, 9.6, 'Europe/Berlin'],
  [50.1, 19.3, 'Europe/Warsaw'],
  [57.2, -4.1, 'Europe/London'],
  [41.2, 14.3, 'Europe/Rome'],
  [38.3, 22.7, 'Europe/Athens'],
  [61.1, 10.2, 'Europe/Oslo'],
  [35.1, -111.3, 'America/Phoenix'],
  [44.8, -110.2, 'America/Denver'],
  [-38.2, 145.1, 'Australia/Melbourne'],
  [-33.2, 19.1, 'Africa/Johannesburg'],
  [-43.1, 171.8, 'Pacific/Auckland'],
];
/** Months whose clocks stay as they are for 45 days from the first. */
const MONTHS = [1, 2, 4, 5, 6, 7, 8, 11, 12];

export const FAULTS = [
  'shade',
  'shade since',
  'panel since',
  'dirt',
  'fridge',
  'fridge since',
  'fridge creeping',
  'fridge gas',
  'draw',
  'draw since',
  'capacity',
  'joint',
  'fridge wire',
  'engine',
  'setpoint',
  'zero',
  'clock',
  'setting',
];

/** Soiling, mismatch and ageing as a rig has them when nothing is written. */
const USUAL_LOSSES = 0.95 * 0.98 * 0.98;

const one = (value, digits = 2) => Number(value.toFixed(digits));
const offsetH = (zone, ms) => {
  const part = new Intl.DateTimeFormat('en', { timeZone: zone, timeZoneName: 'longOffset' })
    .formatToParts(ms)
    .find(({ type }) => type === 'timeZoneName').value;
  const found = /GMT([+-])(\d+):(\d+)/.exec(part);
  return found ? (found[1] === '-' ? -1 : 1) * (Number(found[2]) + Number(found[3]) / 60) : 0;
};

/**
 * @param kind one of FAULTS, or undefined for a sound vehicle
 * @param as   what is to be so and not drawn: `form` of the log, `second` fault beside the first (one of FAULTS)
 */
export function invent(seed, kind, as = {}) {
  const random = randomOf(seed);
  const [latDeg, lonDeg, zone] = random.pick(PLACES);
  const isCold = kind === undefined && random.chance(0.15);
  let month = random.pick(MONTHS);
  const needsSun = ['shade', 'shade since', 'panel since', 'dirt', 'clock', 'setpoint'].includes(kind);
  const isSouth = latDeg < 0;
  if (Math.abs(latDeg) > 46 && (needsSun || !isCold) && random.chance(0.75))
    month = isSouth ? random.pick([11, 12, 1, 2]) : random.pick([4, 5, 6, 7, 8]);
  // clocks change there in April or November
  if (isSouth && month === 4) month = 5;
  if (/^America/.test(zone) && month === 11) month = 12;
  const days = random.whole(26, 42);
  const date = `2025-${String(month).padStart(2, '0')}-0${random.whole(1, 3)}`;
  const zoneH = offsetH(zone, Date.parse(`${date}T12:00Z`));
  const startMs = Date.parse(`${date}T00:00Z`) - zoneH * 3_600_000;
  const season = Math.cos(((month - 7.2 - (isSouth ? 6 : 0)) / 12) * 2 * Math.PI);
  const climate = {
    meanC: 15 - 0.35 * (Math.abs(latDeg) - 45) + 9 * season + 2 * random.normal(),
    swingK: random.range(7, 14),
    dullness: Math.min(
      0.8,
      Math.max(0.15, 0.35 - 0.2 * season + 0.15 * random.normal() + 0.006 * (Math.abs(latDeg) - 45)),
    ),
    haze: random.range(0.14, 0.21),
    wind: random.range(1.5, 4),
  };
  const at = (length) => {
    const from = random.whole(6, days - length - 5);
    return { from, to: from + length };
  };
  const heat = random.chance(0.3) ? { ...at(random.whole(4, 9)), kelvin: random.range(4, 9) } : undefined;
  const spell = random.chance(0.3) ? at(random.whole(3, 6)) : undefined;
  const guests = random.chance(0.25) ? at(random.whole(2, 5)) : undefined;
  const sky = skyOf(random.fork(), { startMs, days, latDeg, lonDeg, climate, spell, heat });

  const day = random.whole(Math.ceil(0.35 * days), Math.floor(0.65 * days));
  const fault = faultOf(random, kind, day, days);
  const battKind = ['capacity', 'setting'].includes(kind)
    ? 'LFP'
    : kind === 'engine'
      ? random.pick(['LFP', 'AGM'])
      : random.chance(0.7)
        ? 'LFP'
        : 'AGM';
  const ratedAh =
    battKind === 'LFP' ? random.pick([100, 105, 120, 150, 160, 200, 230]) : random.pick([150, 180, 200, 230]);
  const absorptionV = battKind === 'LFP' ? random.pick([14.2, 14.3, 14.4]) : random.pick([14.4, 14.5, 14.7]);
  const floatV = battKind === 'LFP' ? 13.5 : 13.6;
  const perDegreeV = battKind === 'LFP' ? 0 : -0.024;
  const share = kind === 'capacity' ? fault.keeps : random.about(battKind === 'LFP' ? 1.01 : 0.97, 0.025);
  const isThin = kind === 'fridge wire';
  const dailyAh = random.range(35, 60);
  const peak = Math.max(2, 3.6 + 1.7 * season - 0.06 * Math.max(0, Math.abs(latDeg) - 45));
  const enough = kind === 'capacity' ? random.range(0.75, 0.95) : random.range(1.05, 1.9);
  const unit = random.pick([100, 110, 120, 130, 150, 175]);
  const panels = Math.min(6, Math.max(1, Math.round((dailyAh * 13 * enough) / peak / 0.75 / unit)));
  const tilted = random.chance(0.2);
  const tiltDeg = tilted ? random.whole(10, 35) : 0;
  const azimuthDeg = isSouth ? 0 : 180;
  const fridge = {
    setC: random.pick([3, 4, 4.5, 5, 6]),
    swingK: random.range(0.8, 1.6),
    leakWK: random.range(0.8, 1.6),
    heatJK: random.range(25_000, 60_000),
    coolW: random.range(75, 105),
    perKelvin: random.range(0.006, 0.012),
    runW: random.pick([42, 45, 48, 52, 56]),
    runPerKelvin: random.range(0.004, 0.01),
    doors: random.range(8, 22),
    ohm: 0,
    cutOutV: random.pick([10.4, 10.6, 10.8]),
    cutInV: 11.8,
    waits: false,
    electronicsA: random.range(0.025, 0.07),
  };
  const fridgeCable = isThin
    ? { length: random.pick([6, 7, 8]), section: random.pick([0.75, 1]) }
    : { length: random.pick([2.5, 3, 4]), section: random.pick([4, 6]) };
  fridge.ohm = ((2 * 0.0175 * fridgeCable.length) / fridgeCable.section) * random.range(1, 1.12);
  if (isThin) {
    // a controller that is picky about its supply shows a thin wire
    fridge.cutOutV = random.pick([11.2, 11.5]);
    fridge.cutInV = 12.4;
  }
  const hasEngine = kind === 'engine' || random.chance(0.4);
  const engine = !hasEngine
    ? undefined
    : { amps: random.pick([20, 25, 30]), setV: battKind === 'LFP' ? 14.2 : 14.4, drives: [] };
  if (engine)
    for (let d = random.whole(1, 2); d < days - 1; d += random.whole(2, 4))
      engine.drives.push({ day: d, hour: random.whole(18, 30) / 2, lasts: random.pick([1, 1.4, 1.8, 2.2]) });
  const loads = loadsOf(random, { dailyAh, guests, climate, deep: kind === 'capacity' });
  const truth = {
    seed,
    kind,
    days,
    date,
    zone,
    zoneH,
    startMs,
    latDeg,
    lonDeg,
    fault,
    guests,
    heat,
    spell,
    battery: {
      kind: battKind,
      ratedAh,
      realAh: ratedAh * share,
      soc: random.range(0.7, 0.95),
      shiftV: 0.012 * random.normal(),
      stands: 'cabin',
      ohm: ((battKind === 'LFP' ? 0.55 : 0.85) / ratedAh) * random.range(0.75, 1.3),
      disconnectV: battKind === 'LFP' ? 11.5 : 10.8,
      reconnectV: 12.9,
    },
    solar: {
      watts: unit * panels,
      tiltDeg: Math.max(0, tiltDeg + (tilted ? 3 : 1.5) * random.normal()),
      azimuthDeg: azimuthDeg + (tilted ? 8 : 60) * random.normal(),
      kelvinPerWm2: random.range(0.028, 0.042),
      dim: random.range(0.02, 0.06),
      perKelvin: random.about(-0.0037, 0.06),
      sound: random.range(0.95, 0.985) * random.range(0.965, 1.01),
    },
    controller: {
      absorptionV,
      floatV,
      perDegreeV,
      toldV: absorptionV,
      holdMin: battKind === 'LFP' ? random.pick([30, 60, 120]) : 240,
      tailA: battKind === 'LFP' ? 0.02 * ratedAh : 0.01 * ratedAh,
      limitA: random.pick([20, 30, 40]),
      efficiency: random.range(0.955, 0.98),
    },
    fridge,
    engine,
    loads,
    invert: { efficiency: random.range(0.86, 0.92), standbyW: random.pick([6, 8, 10]) },
    cabin: { dayK: random.range(2, 6), nightK: random.range(2, 6) + Math.max(0, 9 - climate.meanC) },
    monitor: {
      gain: 1 + 0.004 * random.normal(),
      zeroA: 0.015 * random.normal(),
      deadA: random.pick([0, 0.03, 0.06]),
      efficiency: battKind === 'LFP' ? 0.99 : 0.95,
      startError: 0.02 * random.normal(),
      settingAh: ratedAh * (kind === 'setting' ? fault.times : random.about(1, 0.01)),
      fullWithinV: 0.15,
    },
  };
  truth.controller.limitA = Math.max(truth.controller.limitA, Math.ceil((truth.solar.watts * 1.05) / 13 / 5) * 5);
  if (kind === 'setpoint') Object.assign(truth.controller, { absorptionV: fault.volts, floatV: fault.volts - 0.2 });
  truth.form = { ...formOf(random, kind, days), ...as.form };
  truth.faults = [fault, as.second && faultOf(random, as.second, day)].filter(Boolean);
  const { out, met } = live(random.fork(), truth, sky);
  const seen = watched(random.fork(), truth, { out, met });
  const log = written(truth, out, seen, sky);
  const told = rigOf(random, truth, met, { unit, panels, tiltDeg, azimuthDeg, fridgeCable });
  return { truth, sky, out, met, log, ...told, station: sky.station, want: wantOf(truth, sky, met) };
}

function faultOf(random, kind, day) {
  const since = (more) => ({ day, ...more });
  switch (kind) {
    case 'shade':
    case 'shade since': {
      const fromHour = random.pick([8, 9, 13, 14, 15]);
      return {
        kind: 'shade',
        ...(kind === 'shade since' && { day }),
        fromHour,
        toHour: fromHour + random.whole(3, 4),
        keeps: random.range(0.05, 0.3),
      };
    }
    case 'panel since':
      return since({ kind: 'panel', keeps: random.pick([0.5, 0.5, random.range(0.4, 0.7)]) });
    case 'dirt':
      return { kind: 'panel', keeps: random.range(0.55, 0.75) };
    case 'fridge':
      return { kind: 'fridge', leak: random.range(1.7, 2.4) };
    case 'fridge since':
      return since({ kind: 'fridge', leak: random.range(1.7, 2.4) });
    case 'fridge creeping':
      return since({ kind: 'fridge', leak: random.range(2, 2.6), perDay: random.range(0.15, 0.3) });
    case 'fridge gas':
      return since({ kind: 'fridge', cools: random.range(0.1, 0.3) });
    case 'draw':
      return { kind: 'draw', amps: random.range(0.3, 1.2) };
    case 'draw since':
      return since({ kind: 'draw', watts: random.range(3, 14) });
    case 'capacity':
      return { kind: 'capacity', keeps: random.range(0.55, 0.75) };
    case 'joint':
      return since({ kind: 'joint', ohm: random.range(0.01, 0.025), grows: random.whole(1, 4) });
    case 'fridge wire':
      return { kind: 'fridge wire' };
    case 'engine':
      return since({ kind: 'engine' });
    case 'setpoint':
      return { kind: 'setpoint', volts: random.range(13.65, 13.95) };
    case 'zero':
      return { kind: 'zero', amps: random.pick([-1, 1]) * random.range(0.2, 0.45) };
    case 'clock':
      return { kind: 'clock', minutes: random.pick([-120, -60, 60, 120]) };
    case 'setting':
      return { kind: 'setting', times: random.pick([0.5, 0.6, 0.7, 1.4, 1.6, 2]) };
    default:
      return undefined;
  }
}

/** What is used, hour by hour: habits with people's scatter. */
function loadsOf(random, { dailyAh, guests, climate, deep }) {
  const p = {
    lightsW: random.range(8, 16),
    laptopW: random.pick([45, 55, 60]),
    phonesW: random.pick([6, 8]),
    routerW: random.pick([0, 5, 7]),
    pumpW: random.pick([45, 55]),
    fanW: random.chance(0.5) ? random.pick([12, 16, 20]) : 0,
    heaterW: climate.meanC < 12 ? random.pick([12, 15, 20]) : 0,
    coffeeW: random.chance(0.4) ? random.pick([600, 800]) : 0,
    laptopH: random.range(1.5, 3.5) * (deep ? 1.5 : 1),
    laptopShare: random.range(0.6, 0.95),
    toasterW: 0,
    dailyAh,
  };
  return {
    ...p,
    alwaysA: random.range(0.08, 0.3),
    plan(own, day) {
      const isGuests = guests && day >= guests.from && day < guests.to;
      const start = own.range(8.5, 11);
      const evening = own.range(18.5, 20);
      return {
        guests: isGuests ? 1.8 : 1,
        shops: own.chance(0.3),
        isWork: own.chance(p.laptopShare),
        start,
        end: start + own.about(p.laptopH, 0.15),
        evening,
        isEvening: own.chance(0.6),
        lightsOff: own.range(22, 23.2),
        coffee: own.range(7.3, 8.8),
        isCoffee: own.chance(0.9),
      };
    },
    at(own, today, hour, { roomC, airC, dark }) {
      const times = today.guests > 1 ? 1.4 : 1;
      let watts = 0;
      let acWatts = 0;
      let heats = false;
      if (dark && hour > 15 && hour < today.lightsOff) watts += p.lightsW * times;
      if (hour > 7 && hour < 23) watts += p.routerW;
      if (hour > 19 && hour < 22) watts += p.phonesW * times;
      if (hour > 7 && hour < 22 && own.chance((12 * times) / (15 * 60))) watts += p.pumpW * own.range(0.4, 0.9);
      if (p.fanW && roomC > 27) watts += p.fanW;
      if (p.heaterW) {
        const goal = hour > 6.5 && hour < 22.5 ? 17 : 11;
        if (airC + 2 < goal && (hour * 60) % 40 < Math.min(40, 1.3 * (goal - airC))) {
          watts += p.heaterW;
          heats = true;
        }
      }
      if (today.isWork && hour > today.start && hour < today.end) acWatts += p.laptopW * times;
      if (today.isEvening && hour > today.evening && hour < today.evening + 2) acWatts += p.laptopW;
      if (p.coffeeW && today.isCoffee && hour > today.coffee && hour < today.coffee + 0.1) acWatts += p.coffeeW;
      return { watts, acWatts, heats };
    },
  };
}

/** How the owner's export looks. */
function formOf(random, kind, days) {
  const stepMin = kind ? random.pick([1, 2, 5, 5, 10, 10, 15]) : random.pick([1, 2, 5, 5, 10, 10, 15, 30, 60]);
  const needsSun = ['shade', 'shade since', 'panel since', 'dirt', 'clock'].includes(kind);
  const solar = needsSun ? random.pick(['battery', 'panel']) : random.pick(['battery', 'battery', 'panel', 'none']);
  const comma = random.chance(0.3);
  const milli = random.chance(0.15);
  const sign = random.chance(0.25) ? -1 : 1;
  const out = sign < 0 ? ' (+ = out)' : '';
  return {
    stepMin,
    solar,
    comma,
    milli,
    sign,
    isOnChange: stepMin <= 2 && random.chance(0.4),
    isMoment: stepMin <= 5 && random.chance(0.2),
    stamps: random.pick(['start', 'end']),
    hasSoc: kind === 'setting' || random.chance(0.75),
    hasCabin: random.chance(0.3),
    hasBattery: random.chance(0.35),
    hasAir: random.chance(0.4),
    hasLowest: random.chance(0.15),
    delimiter: comma ? ';' : random.pick([',', ';', '\t']),
    dates: random.pick(['iso', 'iso', 'dmy']),
    isStampsTold: random.chance(0.6),
    isSignTold: random.chance(0.5),
    gap: random.chance(0.15) ? { from: random.whole(3, days - 3) * 1440 + 300, to: 0 } : undefined,
    heads: {
      volts: milli
        ? random.pick(['Battery mV', 'voltage [mV]'])
        : random.pick(['Battery V', 'pack volts', 'Voltage [V]', 'house bank V']),
      amps:
        (milli
          ? random.pick(['Battery mA', 'current [mA]'])
          : random.pick(['Battery A', 'pack amps', 'Current [A]', 'house bank A'])) + out,
      soc: random.pick(['SoC %', 'charge left %', 'State of charge [%]']),
      sun: random.pick(['Solar W', 'PV power [W]', 'solar power [W]']),
    },
  };
}

function rigOf(random, truth, met, { unit, panels, tiltDeg, azimuthDeg, fridgeCable }) {
  const { battery, controller, fridge, loads, engine, invert, cabin, form, latDeg, lonDeg, date, days, guests, zoneH } =
    truth;
  const about = (value, share = 0.07) => one(random.about(value, share), 1);
  const sheet = (roomC) => `${one((sheetWh(fridge, roomC) / 1000) * random.about(1, 0.04), 3)} kWh/day`;
  const hold = controller.holdMin;
  const lines = [
    `# An invented vehicle, as its careful owner would write it.`,
    `name: invented ${truth.seed}`,
    `battery:`,
    `  chemistry: ${battery.kind}`,
    `  capacity: ${battery.ratedAh} Ah`,
    `  stands: cabin`,
    `  disconnect: ${battery.disconnectV} V`,
    `  reconnect: ${battery.reconnectV} V`,
    `  charge: { absorption: ${controller.toldV} V, holdFor: ${hold} min, fullBelow: ${battery.kind === 'LFP' ? 2 : 1} %, float: ${battery.kind === 'LFP' ? 13.5 : 13.6} V${battery.kind === 'LFP' ? '' : ', perDegree: -24 mV/K'} }`,
    `  cable: { length: 1 m, section: 50 mm2 }`,
    `solar:`,
    `  - name: roof`,
    `    power: ${unit} W`,
    `    count: ${panels}`,
    `    tilt: ${tiltDeg} deg`,
    `    azimuth: ${azimuthDeg} deg`,
    `    controller: { kind: MPPT, current: ${controller.limitA} A }`,
    `    cable: { length: 4 m, section: 6 mm2 }`,
    `    outputCable: { length: 2 m, section: 16 mm2 }`,
    ...(engine
      ? [
          `alternator:`,
          `  rating: 120 A`,
          `  charger: { kind: dcdc, current: ${engine.amps} A, charge: { absorption: ${engine.setV} V } }`,
          `  outputCable: { length: 4 m, section: 16 mm2 }`,
        ]
      : []),
    `inverter: { rating: 1000 W, standby: ${invert.standbyW} W, on: with loads }`,
    `cabin: { gain: 0 degC, warmer: { day: ${one(Math.max(0, cabin.dayK + 1.6 + random.normal()), 1)} degC, night: ${one(Math.max(0, cabin.nightK + random.normal()), 1)} degC } }`,
    `loads:`,
    `  - name: fridge`,
    `    kind: fridge`,
    `    volume: ${Math.round(fridge.leakWK * 40)} L`,
    `    setpoint: ${fridge.setC} degC`,
    `    compressor: ${fridge.runW} W`,
    `    rated: { energy: ${sheet(25)}, ambient: 25 degC, also: [{ energy: ${sheet(18)}, ambient: 18 degC }, { energy: ${sheet(32)}, ambient: 32 degC }] }`,
    `    cutOut: ${fridge.cutOutV} V`,
    `    cutIn: ${fridge.cutInV} V`,
    `    cable: { length: ${fridgeCable.length} m, section: ${fridgeCable.section} mm2 }`,
    `  - { name: laptop, power: ${about(loads.laptopW)} W, hours: ${about(loads.laptopH)}, when: "08:00 to 14:00", share: ${Math.round(100 * loads.laptopShare)} %, inverter: true }`,
    `  - { name: laptop evening, power: ${about(loads.laptopW)} W, hours: 2, when: "18:30 to 22:00", share: 60 %, inverter: true }`,
    `  - { name: lights, power: ${about(loads.lightsW)} W, when: sunset to 22:30 }`,
    ...(loads.routerW ? [`  - { name: router, power: ${loads.routerW} W, when: "07:00 to 23:00" }`] : []),
    `  - { name: phones, power: ${loads.phonesW} W, when: "19:00 to 22:00" }`,
    `  - { name: pump, power: ${loads.pumpW} W, times: 12, lasts: 40 s, when: "07:00 to 22:00" }`,
    ...(loads.fanW ? [`  - { name: fan, power: "cabin > 27 ? ${loads.fanW} : 0" }`] : []),
    ...(loads.heaterW
      ? [`  - { name: heater, power: ${loads.heaterW} W, hours: ${about(Math.min(23, met.heaterH / days), 0.12)} }`]
      : []),
    ...(loads.coffeeW
      ? [
          `  - { name: coffee, power: ${loads.coffeeW} W, times: 1, lasts: 6 min, when: "07:15 to 09:00", share: 90 %, inverter: true }`,
        ]
      : []),
    `  - { name: always on, current: ${one(loads.alwaysA + 0.01 * random.normal())} A }`,
  ];
  const stops = [];
  const marks = new Map([[0, {}]]);
  for (const { day, hour, lasts } of engine?.drives ?? [])
    marks.set(day, {
      ...marks.get(day),
      drive: `${lasts} h`,
      driveFrom: `${String(Math.floor(hour)).padStart(2, '0')}:${hour % 1 ? '30' : '00'}`,
    });
  if (guests) {
    marks.set(guests.from, marks.get(guests.from) ?? {});
    if (guests.to < days) marks.set(guests.to, marks.get(guests.to) ?? {});
  }
  const order = [...marks].sort(([a], [b]) => a - b);
  order.forEach(([day, { drive, driveFrom }], k) => {
    const nights = (order[k + 1]?.[0] ?? days) - day;
    const isGuests = guests && day >= guests.from && day < guests.to;
    const parts = [`at: [${latDeg}, ${lonDeg}]`, ...(k === 0 ? [`from: ${date}`] : []), `nights: ${nights}`];
    if (drive) parts.push(`drive: ${drive}`, `driveFrom: "${driveFrom}"`);
    if (isGuests) parts.push('use: { laptop: 1.4, lights: 1.4, phones: 1.4, pump: 1.4 }');
    stops.push(`  - { ${parts.join(', ')} }`);
  });
  const hours = Math.abs(zoneH);
  return {
    rig: `${lines.join('\n')}\n`,
    trip: `name: invented ${truth.seed}\nstops:\n${stops.join('\n')}\n`,
    given: {
      zone: `UTC${zoneH < 0 ? '-' : '+'}${String(Math.floor(hours)).padStart(2, '0')}:${hours % 1 ? '30' : '00'}`,
      ...(form.dates === 'dmy' && { dateOrder: 'dmy' }),
      ...(form.isSignTold && { positive: form.sign < 0 ? 'discharging' : 'charging' }),
      ...(form.solar === 'panel' && { solarSide: 'panel' }),
    },
    answers: { positive: form.sign < 0 ? 'discharging' : 'charging' },
    stamps: form.isStampsTold && !form.isOnChange ? (form.isMoment ? 'instant' : form.stamps) : undefined,
  };
}

/** Codes that mean a cause. */
const CODES = {
  shade: ['panel_shade'],
  'shade since': ['panel_shade'],
  'panel since': ['panel_step'],
  dirt: ['panel_even'],
  fridge: ['fridge_high'],
  'fridge since': ['fridge_climbing', 'fridge_without_pause'],
  'fridge creeping': ['fridge_climbing', 'fridge_without_pause'],
  'fridge gas': ['fridge_without_pause', 'fridge_climbing'],
  draw: ['draw_unlisted'],
  'draw since': ['draw_unlisted'],
  capacity: ['capacity_low'],
  joint: ['main_resistance'],
  'fridge wire': ['fridge_wire'],
  engine: ['engine_weak'],
  setpoint: ['charge_ends_early'],
  zero: ['monitor_zero'],
  clock: ['log_clock'],
  setting: ['counter_setting'],
};

/** What an honest tool says of it, and whether the log holds it, by the truth alone. */
function wantOf(truth, sky, met) {
  const { kind, fault, days, form, battery, engine, loads, date } = truth;
  if (!kind) return undefined;
  const civil = (day) => new Date(Date.parse(`${date}T00:00Z`) + day * 86_400_000).toISOString().slice(0, 10);
  const since = fault.day !== undefined && fault.kind !== 'reset' ? civil(fault.day) : undefined;
  // free light by day, inside and outside a fault's hours and days
  const free = Array.from({ length: days }, () => ({ inside: 0, outside: 0 }));
  for (let i = 0; i < days * 1440; i++) {
    const [day, hour] = [Math.floor(i / 1440), (i % 1440) / 60];
    if (met.heldMin[i] || met.offeredW[i] <= 0) continue;
    const isIn = fault.kind !== 'shade' || (hour >= fault.fromHour && hour < fault.toHour);
    free[day][isIn ? 'inside' : 'outside'] += (sky.dni[i] > 150 || fault.kind !== 'shade' ? sky.ghi[i] : 0) / 60000;
  }
  const goodDays = (from, to, place, least) => free.slice(from, to).filter((one) => one[place] > least).length;
  const isFine = form.stepMin <= 15;
  const hasSun = form.solar !== 'none';
  const first = fault.day ?? 0;
  let isDeterminable = true;
  let size;
  switch (kind) {
    case 'shade':
      isDeterminable = hasSun && goodDays(0, days, 'inside', 0.5) >= 6 && goodDays(0, days, 'outside', 0.4) >= 6;
      break;
    case 'shade since':
      isDeterminable = hasSun && goodDays(first, days, 'inside', 0.5) >= 6 && goodDays(0, first, 'inside', 0.5) >= 4;
      break;
    case 'panel since':
      isDeterminable = hasSun && goodDays(first, days, 'inside', 0.5) >= 6 && goodDays(0, first, 'inside', 0.5) >= 6;
      size = { value: 1 - fault.keeps, within: 0.05 };
      break;
    case 'dirt':
      isDeterminable = hasSun && fault.keeps * truth.solar.sound < 0.75 && goodDays(0, days, 'inside', 0.5) >= 8;
      // against the promise of a rig with the usual losses
      size = { value: (fault.keeps * truth.solar.sound) / USUAL_LOSSES, within: 0.06 };
      break;
    case 'fridge': {
      // a data sheet and a cabin's warmth are known so well, and no better
      const aboveK =
        sky.air.reduce((sum, c) => sum + c, 0) / sky.air.length + truth.cabin.nightK - 3 - truth.fridge.setC;
      const doubt = Math.hypot(0.13, (form.hasCabin ? 0.7 : 2) / Math.max(1, aboveK));
      isDeterminable = isFine && !loads.heaterW && fault.leak > 1.13 * Math.exp(2.8 * doubt);
      size = { value: fault.leak, within: 0.35 };
      break;
    }
    case 'fridge since':
    case 'fridge creeping':
    case 'fridge gas':
      isDeterminable = isFine && sky.air.reduce((sum, c) => sum + c, 0) / sky.air.length > 8 && met.cutMin < 300;
      break;
    case 'draw':
      isDeterminable = isFine;
      size = { value: fault.amps, within: 0.1 };
      break;
    case 'draw since':
      isDeterminable = isFine;
      size = { value: fault.watts / 13.2, within: 0.06 };
      break;
    case 'capacity': {
      // down to the knee within five days of a full charge, at least twice
      let [lowDays, fullDay] = [new Set(), -9];
      for (let i = 0; i < days * 1440; i++) {
        const day = Math.floor(i / 1440);
        if (met.fulls.includes(day)) fullDay = day;
        if (met.soc[i] < 0.07 && day - fullDay <= 4) lowDays.add(day);
      }
      isDeterminable = lowDays.size >= 2;
      size = { value: fault.keeps, within: 0.06 };
      break;
    }
    case 'joint':
      isDeterminable = isFine && loads.coffeeW > 0;
      size = { value: fault.ohm, within: 0.004 };
      break;
    case 'fridge wire':
      isDeterminable = isFine && met.fridgeCuts >= 12;
      break;
    case 'engine': {
      const dead = engine.drives.filter((one) => one.day >= first);
      const room = dead.filter((one) => met.soc[Math.floor(one.day * 1440 + one.hour * 60)] < 0.8).length;
      isDeterminable = room >= 3 && form.stepMin <= 30;
      break;
    }
    case 'setpoint': {
      const held = Array.from({ length: days }, (_, day) =>
        met.absorbMin.subarray(day * 1440, day * 1440 + 1440).reduce((sum, one) => sum + one, 0),
      );
      isDeterminable =
        held.filter((minutes) => minutes > 45).length >= 6 && truth.controller.toldV - fault.volts > 0.35;
      size = { value: fault.volts, within: 0.1 };
      break;
    }
    case 'zero':
      // what a battery loses, and what rows on change leave out, is not known better
      isDeterminable =
        met.fulls.length >= 5 && Math.abs(fault.amps) > (battery.kind === 'AGM' ? 0.42 : form.isOnChange ? 0.3 : 0.15);
      size = { value: fault.amps, within: 0.06 };
      break;
    case 'clock':
      isDeterminable = hasSun && goodDays(0, days, 'inside', 1) >= 8;
      size = { value: fault.minutes, within: 15 };
      break;
    case 'setting':
      size = { value: fault.times * battery.ratedAh, within: 0.08 * battery.ratedAh };
      break;
  }
  return { kind, codes: CODES[kind], since, firstDay: first, isDeterminable, size, grows: kind === 'fridge creeping' };
}
