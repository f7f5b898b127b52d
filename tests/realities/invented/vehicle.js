// One invented vehicle, minute by minute: what was really so, with constants jittered by their published spread.
import { onPlane } from './sky.js';

/** Rested volts of a 12 V battery by charge, by points of our own between what makers print. */
const REST = {
  LFP: [
    [0, 10.4],
    [0.02, 11.6],
    [0.05, 12.45],
    [0.1, 12.8],
    [0.15, 12.92],
    [0.2, 12.99],
    [0.3, 13.09],
    [0.4, 13.15],
    [0.5, 13.18],
    [0.6, 13.22],
    [0.7, 13.29],
    [0.8, 13.31],
    [0.9, 13.33],
    [0.96, 13.36],
    [0.985, 13.45],
    [1, 13.62],
    [1.004, 14.1],
    [1.01, 14.9],
  ],
  AGM: [
    [0, 11.65],
    [0.1, 11.82],
    [0.2, 11.97],
    [0.3, 12.1],
    [0.4, 12.22],
    [0.5, 12.33],
    [0.6, 12.45],
    [0.7, 12.56],
    [0.8, 12.68],
    [0.9, 12.8],
    [1, 12.92],
  ],
};

function along(points, x) {
  if (x <= points[0][0]) return points[0][1] + 60 * (x - points[0][0]);
  for (let k = 1; k < points.length; k++)
    if (x <= points[k][0]) {
      const [[x0, y0], [x1, y1]] = [points[k - 1], points[k]];
      return y0 + ((x - x0) / (x1 - x0)) * (y1 - y0);
    }
  const [[x0, y0], [x1, y1]] = points.slice(-2);
  return y1 + ((x - x1) * (y1 - y0)) / (x1 - x0);
}

/** The box of a fridge: leak and compressor by a capacity curve over the air around it. */
export const coolingW = ({ coolW, perKelvin }, roomC) => coolW * Math.max(0.35, 1 - perKelvin * (roomC - 25));
export const compressorW = ({ runW, runPerKelvin }, roomC) => runW * (1 + runPerKelvin * (roomC - 25));

/** Watt-hours a day with the door shut and 5 °C inside, as a data sheet has it. */
export function sheetWh(fridge, roomC) {
  const duty = Math.min(1, (fridge.leakWK * (roomC - 5)) / coolingW(fridge, roomC));
  return 24 * duty * compressorW(fridge, roomC);
}

const since = (faults, kind, day) => faults.find((one) => one.kind === kind && day >= (one.day ?? 0));

/**
 * Runs a vehicle through its days.
 * @returns columns by the minute as a perfect meter would see them, and what happened
 */
export function live(random, truth, sky) {
  const { days, battery, solar, fridge, loads, engine, faults, cabin, controller, invert } = truth;
  const n = days * 1440;
  const column = () => new Float64Array(n);
  const out = { volts: column(), amps: column(), sunW: column(), panelW: column(), battC: column(), cabinC: column() };
  const met = {
    soc: column(),
    offeredW: column(),
    heldMin: column(),
    absorbMin: column(),
    cutMin: 0,
    fulls: [],
    coldMin: 0,
    fridgeCuts: 0,
    heaterH: 0,
  };
  const rest = REST[battery.kind];
  const isLead = battery.kind === 'AGM';
  let { soc } = battery;
  let [relax, cellC, roomC, cellHeat, boxC, isOn, isCut, hasPower] = [
    0,
    sky.air[0] + 8,
    sky.air[0] + 4,
    0,
    fridge.setC,
    false,
    false,
    true,
  ];
  let [stage, stageMin, darkMin, food, surface] = ['bulk', 0, 0, 0, 0];
  const ah = battery.realAh;
  const today = { key: -1 };
  let drift = 0;
  for (let i = 0; i < n; i++) {
    const day = Math.floor(i / 1440);
    const hour = (i % 1440) / 60;
    if (today.key !== day) Object.assign(today, { key: day, ...loads.plan(random, day) });
    // cabin and battery follow the air
    drift += -drift / 300 + 0.03 * random.normal();
    const warmth = hour >= 7 && hour < 20 ? cabin.dayK : cabin.nightK;
    roomC += (sky.air[i] + warmth + 0.003 * sky.ghi[i] + drift - roomC) / 60;
    cellC += ((battery.stands === 'cabin' ? roomC : sky.air[i]) - cellC) / 400;
    out.cabinC[i] = roomC;
    out.battC[i] = cellC;
    // what the panels could give
    const light = onPlane(sky, i, solar.tiltDeg, solar.azimuthDeg);
    let direct = light.direct;
    const shade = since(faults, 'shade', day);
    if (shade && hour >= shade.fromHour && hour < shade.toHour) direct *= shade.keeps;
    const plane = direct + light.other;
    cellHeat += ((solar.kelvinPerWm2 * plane) / (1 + 0.08 * sky.wind[i]) - cellHeat) / 6;
    const bright = Math.max(0, 1 + solar.dim * Math.log(Math.max(plane, 5) / 1000));
    let offered =
      solar.watts * (plane / 1000) * bright * (1 + solar.perKelvin * (sky.air[i] + cellHeat - 25)) * solar.sound;
    const loss = since(faults, 'panel', day);
    if (loss) offered *= loss.keeps;
    met.offeredW[i] = offered;
    // loads
    const v0 = i > 0 ? out.volts[i - 1] : along(rest, soc);
    let drawA = 0;
    if (isCut && v0 > battery.reconnectV) isCut = false;
    if (!isCut && v0 < battery.disconnectV) isCut = true;
    if (isCut) met.cutMin++;
    hasPower = !isCut;
    // fridge: the box warms by leak, doors and food; the compressor cools
    const leak = since(faults, 'fridge', day);
    let leakWK = fridge.leakWK;
    if (leak?.leak) leakWK *= leak.perDay ? Math.min(leak.leak, 1 + leak.perDay * (day - leak.day)) : leak.leak;
    const capacity = coolingW(fridge, roomC) * (leak?.cools ?? 1);
    const doorP = hour >= 7 && hour < 23 ? (fridge.doors * (today.guests ?? 1)) / (16 * 60) : fridge.doors / 3000;
    if (random.chance(doorP)) food += 60 * random.range(3, 9) * Math.max(2, roomC - boxC) * 0.8;
    if (Math.round(hour * 60) === 17 * 60 && today.shops) food += random.range(60_000, 200_000);
    const fromFood = food / 9000;
    food -= fromFood * 60;
    const atFridgeV = v0 - fridge.ohm * (isOn ? compressorW(fridge, roomC) / Math.max(9, v0) : 0);
    if (isOn && (atFridgeV < fridge.cutOutV || !hasPower)) {
      isOn = false;
      if (hasPower) met.fridgeCuts++;
      fridge.waits = true;
    }
    if (fridge.waits && v0 > fridge.cutInV && hasPower) fridge.waits = false;
    if (!isOn && boxC > fridge.setC + fridge.swingK && hasPower && !fridge.waits && atFridgeV > fridge.cutOutV)
      isOn = true;
    if (isOn && boxC < fridge.setC - fridge.swingK) isOn = false;
    boxC += ((leakWK * (roomC - boxC) + fromFood - (isOn ? capacity : 0)) * 60) / fridge.heatJK;
    if (isOn) {
      const watts = compressorW(fridge, roomC);
      drawA += watts / Math.max(9, atFridgeV);
    }
    if (hasPower) {
      drawA += fridge.electronicsA;
      const { watts, acWatts, heats } = loads.at(random, today, hour, {
        roomC,
        airC: sky.air[i],
        dark: sky.sin[i] < -0.05,
        day,
      });
      const ac = acWatts > 0 ? acWatts / invert.efficiency + invert.standbyW : 0;
      if (heats) met.heaterH += 1 / 60;
      drawA += (watts + ac) / v0 + loads.alwaysA;
      const draw = since(faults, 'draw', day);
      if (draw) drawA += draw.watts ? draw.watts / v0 : draw.amps;
    }
    // the battery behind its joints
    const cold = Math.exp(0.03 * Math.max(0, 20 - cellC));
    const lowSoc = 1 + 0.6 * Math.exp(-soc * 14);
    let ohm = battery.ohm * cold * lowSoc * (isLead ? 1 + 0.25 * (1 - soc) : 1);
    const joint = since(faults, 'joint', day);
    if (joint) ohm += joint.ohm * Math.min(1, (day - joint.day + 1) / joint.grows);
    const inner = along(rest, soc) + battery.shiftV + relax + surface;
    const chargeOhm = ohm + (isLead ? battery.ohm * 5 * soc ** 6 : 0);
    // the solar controller
    const isDark = offered < 0.01 * solar.watts;
    darkMin = isDark ? darkMin + 1 : 0;
    if (darkMin > 60) [stage, stageMin] = ['bulk', 0];
    const shift = controller.perDegreeV * (cellC - 25);
    const goalV = (stage === 'float' ? controller.floatV : controller.absorptionV) + shift;
    const battLimit = (goalV - inner) / chargeOhm;
    const isBlocked = !isLead && cellC < 0.5;
    if (isBlocked && offered > 20) met.coldMin++;
    const most = controller.efficiency - 0.004 * Math.max(0, offered / solar.watts) - 0.0008;
    const limitA = Math.min(controller.limitA, Math.max(0, battLimit + drawA));
    let sunA = Math.min((offered * most) / Math.max(10, v0), limitA);
    if (isBlocked) sunA = Math.min(sunA, drawA);
    if (offered < 1.5) sunA = 0;
    met.heldMin[i] = offered > 5 && sunA < 0.97 * ((offered * most) / v0) ? 1 : 0;
    // engine charging
    const drive = engine?.drives.find((one) => one.day === day && hour >= one.hour && hour < one.hour + one.lasts);
    let engineA = 0;
    if (drive && !isBlocked && !since(faults, 'engine', day)) {
      const limit = (engine.setV + shift - inner) / chargeOhm + drawA - sunA;
      engineA = Math.max(0, Math.min(engine.amps, limit));
    }
    const amps = sunA + engineA - drawA;
    const volts = inner + (amps > 0 ? chargeOhm : ohm) * amps;
    if (stage === 'bulk' && volts > goalV - 0.05 && offered > 5) [stage, stageMin] = ['absorb', 0];
    if (stage === 'absorb') {
      stageMin++;
      if (stageMin > controller.holdMin || (stageMin > 3 && amps < controller.tailA && volts > goalV - 0.08))
        stage = 'float';
    } else if (stage === 'float' && volts < controller.floatV + shift - 0.5) {
      if (++stageMin > controller.holdMin + 20) [stage, stageMin] = ['bulk', 0];
    }
    // charge, polarisation, hysteresis
    const kept = amps > 0 ? (isLead ? 1 - 0.02 - 0.3 * soc ** 12 : 0.996) : 1;
    const peukert = isLead && amps < 0 ? (Math.max(0.2, -amps) / (battery.ratedAh / 20)) ** 0.06 : 1;
    soc = Math.max(-0.03, Math.min(isLead ? 1 : 1.03, soc + (amps * kept * peukert) / 60 / ah));
    relax +=
      (amps * battery.ohm * (isLead ? 1.5 : 0.6) + 0.03 * Math.sign(amps) * (isLead ? 2 : 1) - relax) /
      (isLead ? 60 : 25);
    surface += isLead
      ? ((amps > 0.2 ? 1.6 * soc ** 10 + 0.25 - 0.024 * (cellC - 25) * soc ** 6 : 0) - surface) / 45
      : 0;
    const isFull = volts > controller.absorptionV + shift - 0.12 && amps >= 0 && amps < 0.03 * battery.ratedAh;
    if (isFull && met.fulls.at(-1) !== day) met.fulls.push(day);
    if (Math.abs(volts - controller.absorptionV - shift) < 0.04 && offered > 5) met.absorbMin[i] = 1;
    out.volts[i] = volts;
    out.amps[i] = amps;
    out.sunW[i] = sunA * volts;
    out.panelW[i] = (sunA * volts) / most;
    met.soc[i] = soc;
  }
  return { out, met };
}
