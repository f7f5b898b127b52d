/**
 * More ways to break the running physics, in the form of list.js and at other places. The lines were drawn at random in each
 * room, and the first that carries an answer was taken, so that nobody picked what the checks are known to notice.
 */
// biome-ignore format: a table
export const BREAKS = {
  battery: [
    ['loop.ts', 'charge stored x 0.9', 'soc += (storedA * dtH) / capacityAh;', 'soc += (0.9 * storedA * dtH) / capacityAh;'],
    ['loop.ts', 'mean voltage over several points of the table: part of the first interval left out', '+ 0.5 * pointAh * f0 * (ocvLow + ocv0)', '+ 0 * pointAh * f0 * (ocvLow + ocv0)'],
    ['kinetic.ts', 'two wells: exponential of the wrong sign', 'const left = -Math.expm1(-x);', 'const left = Math.expm1(x);'],
  ],
  loads: [
    ['day.ts', "midnight of the day by the zone's offset of the wrong sign", '(day.startMs / HOUR_MS + firstOffsetH) / 24', '(day.startMs / HOUR_MS - firstOffsetH) / 24'],
  ],
  charging: [
    ['alternator.ts', 'shares stated at 40 °C', 'const STATED_AT_C = 25;', 'const STATED_AT_C = 40;'],
  ],
  panels: [
    ['assemble-solar.ts', 'obstacles of a stop do not hide the sky', 'skyKeeps: 1 - skyShade(leg.stop, shade),', 'skyKeeps: 1,'],
    ['performance-table.ts', 'voltage at maximum power x 0.8', '= point.voltageV;', '= 0.8 * point.voltageV;'],
  ],
  sun: [
    ['solar-geometry.ts', 'zenith an hour late', 'const cosHour = Math.cos(hourAngleDeg * RAD);', 'const cosHour = Math.cos((hourAngleDeg - 15) * RAD);'],
  ],
  light: [
    ['sky-texture.ts', 'clearness not set against that of the clear sky', 'const spread = scatter / clearClearness;', 'const spread = scatter;'],
  ],
  wires: [
    ['demands.ts', 'hot day 35 to 25 °C', 'airC: 35, windMs: 1', 'airC: 25, windMs: 1'],
  ],
};
