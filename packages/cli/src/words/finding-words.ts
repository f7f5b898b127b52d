import { checkRig, type Finding, type FindingArgs, type Rig, type Trip } from '@stayput/core';
import type { CircuitFindingArgs } from '@stayput/core/model';
import { adviceText } from './circuit-words.js';
import { mm2, wholePercent } from './figures.js';
import { OVERLOAD_WORDS } from './overload-words.js';
import { sentence, type Words } from './worded.js';

/** A finding with its sentence, as every screen, page and document shows it. */
export interface ShownFinding {
  readonly level: Finding['level'];
  readonly path: string;
  readonly code: string;
  readonly args: object;
  readonly text: string;
}

/** What of a finding is shown to people. */
export type FindingLine = Pick<ShownFinding, 'level' | 'path' | 'text'>;

const circuit = (args: CircuitFindingArgs) => `${args.name}: ${adviceText(args)}`;

type ColdArgs = FindingArgs['array_voltage_enough'];

const panels = (series: number) => (series > 1 ? `${series} panels in series give` : 'the panel gives');
const live = ({ isLive, touchV }: Pick<ColdArgs, 'isLive' | 'touchV'>) =>
  isLive ? `; above ${touchV} V touching it is dangerous` : '';
const compared = ({ series, coldV, coldC, tenKelvinV, maxInputV }: ColdArgs) =>
  `${panels(series)} ${coldV.toFixed(1)} V at ${coldC} °C when nothing is drawn (${tenKelvinV.toFixed(1)} V more for each 10 K colder), and the controller is made for ${maxInputV} V`;
const reached = (reachedC: number) => `${Math.ceil(reachedC)} °C`;

export const FINDING_WORDS: Words<FindingArgs> = {
  cable_overloaded: circuit,
  no_fuse_large_enough: circuit,
  no_fuse_protects: circuit,
  fuse_too_large: circuit,
  fuse_too_small: circuit,
  fuse_opens_at_start: circuit,
  power_not_delivered: circuit,
  drop_too_large: circuit,
  start_voltage_low: circuit,
  ...OVERLOAD_WORDS,
  no_cable_given: ({ circuits }) =>
    `no cable is given for ${circuits.join(', ')}: only terminals are counted there, so drop, ampacity and fuse were not looked at`,
  charge_below_freezing: ({ chemistry }) =>
    `${chemistry} cells are damaged by charging below 0 °C, and can become unsafe: set it to 0 degC or above`,
  battery_in_weather: ({ mounted }) =>
    `mounted ${mounted === 'outside' ? 'outside' : `in the ${mounted}`} it follows the weather: below 0 °C it takes no charge, and heat ages it; a heater or a place in the cabin cures the first`,
  battery_in_engine_bay: () =>
    'an engine bay is the hottest place a battery can have: every 10 K halve its life, roughly',
  hydrogen: () =>
    'a flooded battery gives off hydrogen while charging: it needs a sealed box vented to the outside, away from sparks',
  hydrogen_when_overcharged: () =>
    'sealed lead-acid can still vent hydrogen when overcharged: give its space an opening to the outside',
  floor_low_for_lead: ({ floor }) =>
    `going down to ${wholePercent(floor)} often costs a lead-acid battery much of its life: half is the usual floor`,
  disconnect_above_floor: ({ disconnect, floor }) =>
    `loads are cut at ${wholePercent(disconnect)}, before the floor of ${wholePercent(floor)} is reached`,
  reconnect_close: () => 'less than 0.3 V per 12 V above the disconnect: loads may switch off and on again and again',
  battery_fuse_not_named: () =>
    'no fuse is named for the battery cable: fuse it within a hand’s breadth of the battery',
  no_loads: () => 'nothing draws on the battery',
  absorption_high: ({ absorptionV, lowV, highV, chemistry }) =>
    `${absorptionV} V is above the usual ${lowV} to ${highV} V of ${chemistry}: it can harm the cells`,
  absorption_low: ({ absorptionV, lowV, highV, chemistry }) =>
    `${absorptionV} V is below the usual ${lowV} to ${highV} V of ${chemistry}: it may never be full`,
  controller_clips: ({ currentA, maxW, arrayW }) =>
    `${currentA} A at the battery are about ${Math.round(maxW)} W: the rest of ${arrayW} W is cut off at noon`,
  datasheet_differs: ({ sheetW, powerW }) =>
    `vmp times imp is ${sheetW.toFixed(0)} W, but the nameplate says ${powerW} W: the nameplate is used for power, the datasheet for voltages; look which one is right`,
  pwm_wastes_voltage: ({ vmpV, lostShare }) =>
    `a PWM controller pulls this array's ${vmpV.toFixed(1)} V down to the battery's: about ${wholePercent(lostShare)} of its power is lost; an MPPT keeps it`,
  cells_assumed: ({ powerW, cells, largeCells }) =>
    `${powerW} W of which only the watts are known are taken as a panel of ${cells} cells made for 12 V; many of that size have ${largeCells} cells or more: give its datasheet, or its number of cells (cells: ${largeCells})`,
  azimuth_of_flat: ({ azimuthDeg, tiltDeg }) =>
    `azimuth ${azimuthDeg}° says nothing of a panel with a tilt of ${tiltDeg}°: flat, it faces no way; give its tilt, or leave the azimuth out`,
  absorption_late: ({ dropV }) =>
    `at full current the controller measures ${dropV.toFixed(2)} V more than the battery has: it takes the battery for full while it is not, and absorption comes late or never; use a thicker or shorter cable`,
  chargers_above_battery: ({ chargersA, maxChargeA }) =>
    `chargers can give ${chargersA.toFixed(0)} A together, more than the ${maxChargeA.toFixed(0)} A that the battery may take`,
  mains_above_battery: ({ currentA, maxChargeA }) =>
    `${currentA} A are more than the ${maxChargeA.toFixed(0)} A that the battery may take`,
  relay_feeds_vehicle: ({ lowVoltageV, restedV, vehicleA }) =>
    `a bare relay joins the house battery, ${restedV.toFixed(1)} V at half charge, to an alternator that falls to ${lowVoltageV} V: it then feeds the vehicle, up to ${vehicleA} A, instead of being charged; a DC-DC charger does not let that happen`,
  relay_above_battery: ({ currentA, maxChargeA, ohm }) =>
    `nothing behind a bare relay holds the current to what the battery should take: up to ${currentA.toFixed(0)} A come through ${(1000 * ohm).toFixed(0)} mohm of relay and cables, and ${maxChargeA.toFixed(0)} A are its limit; a current-limited DC-DC charger holds it`,
  relay_with_lithium: () =>
    'a bare relay lets an LFP battery draw all the alternator has, for hours: it can overheat; a current-limited DC-DC charger is the usual cure',
  alternator_short_when_hot: ({ leftA, currentA }) =>
    `hot, the alternator has about ${leftA.toFixed(0)} A left for charging: the charger will not always reach its ${currentA} A`,
  nothing_charges: () => 'nothing charges the battery: it only lasts until it is empty',
  rarely_filled: ({ minShare }) =>
    `all charging together is under ${wholePercent(minShare)} of the capacity per hour: a lead-acid battery will rarely be filled`,
  array_voltage_unknown: ({ series, coldV, ...touch }) =>
    `${panels(series)} about ${coldV.toFixed(0)} V in the cold when nothing is drawn: the controller must be made for more than that (give the rig its controller.inputVoltage, and the two are compared)${live(touch)}`,
  array_voltage_destroys: (args) =>
    `${compared(args)}: the controller is destroyed, and it can burn; ${args.series > 1 ? 'put fewer in series, or use' : 'use'} a controller made for ${Math.ceil(args.neededV)} V or more${live(args)}`,
  array_voltage_scarce: (args) =>
    `${compared(args)}: no more than ${100 * args.marginShare} % is left${args.reachedC === undefined ? '' : `, and at ${reached(args.reachedC)} nothing`}${live(args)}`,
  array_voltage_enough: (args) =>
    `${compared(args)}, which is enough${args.reachedC === undefined ? '' : ` down to ${reached(args.reachedC)}`}${live(args)}`,
  pwm_current_high: ({ shortA, brightA, currentA }) =>
    `the panels give up to ${shortA.toFixed(1)} A in full sun and ${brightA.toFixed(1)} A beside bright clouds, ${shortA > currentA ? 'more than' : 'and then more than'} the ${currentA} A that its PWM controller is made for: it overheats or switches off; use a PWM controller of ${Math.ceil(brightA)} A or more, or an MPPT, which limits the current`,
  fridge_cut_out_early: ({ name, soc, dropV, cutOutV, sectionMm2 }) =>
    `${name} switches itself off when the battery is still at ${wholePercent(soc)}: in a hot room ${dropV.toFixed(2)} V are lost in its cable while it runs, and it then sees less than its cut-out of ${cutOutV} V; ${
      sectionMm2 === undefined
        ? 'no cable cures that: a lower cut-out would, or a higher disconnect of the battery'
        : `${mm2(sectionMm2)} or more keeps it running`
    }`,
  fridge_rated_beyond_compressor: ({ name, ratedWh, maxWh, ambientC, compressorW }) =>
    `${name} is rated at ${ratedWh.toFixed(0)} Wh a day at ${ambientC} °C, but a compressor of ${compressorW} W that never stops takes ${maxWh.toFixed(0)} Wh there: one of the two is wrong (compressor: its power while it runs)`,
  fridge_rated_falls: ({ name, coolC, coolWh, warmC, warmWh }) =>
    `${name} is rated at ${warmWh.toFixed(0)} Wh a day at ${warmC} °C and at ${coolWh.toFixed(0)} Wh at ${coolC} °C: it cannot take less where it is warmer; look which point is right`,
  fridge_rated_elsewhere: ({ name, ratedWh, ambientC, insideC, setpointC, setWh, maxWh }) =>
    `the ${ratedWh.toFixed(0)} Wh a day of ${name} are taken as with ${insideC} °C inside; kept at ${setpointC} °C it takes ${setWh > maxWh ? `${maxWh.toFixed(0)} Wh at ${ambientC} °C and does not reach that` : `about ${setWh.toFixed(0)} Wh at ${ambientC} °C`}; if they were measured at its set point, say rated: { inside: ${setpointC} degC }`,
  fridge_two_zones: ({ name, firstL, firstC, secondL, secondC }) =>
    `${name} is two rooms on one compressor: ${firstL} L at ${firstC} °C and ${secondL} L at ${secondC} °C; what is inside and the heat that comes in are shared by volume, warm food goes into the first, and while the compressor serves one room the other waits`,
  inverter_above_battery: ({ fullA, maxDischargeA }) =>
    `at full load it takes ${fullA.toFixed(0)} A, more than the ${maxDischargeA.toFixed(0)} A that the battery may give`,
  inverter_mains_voltage: () =>
    'what comes out of it is mains voltage, which can kill: a licensed person puts in its sockets, with a residual-current device',
  inverter_without_loads: ({ whPerDay }) =>
    `no load is behind it, yet it takes ${whPerDay.toFixed(0)} Wh a day when left on`,
  inverter_always_on: ({ whPerDay }) =>
    `left on it takes ${whPerDay.toFixed(0)} Wh a day by itself; if you switch it off after use, say so (on: with loads)`,
  mains_without_charger: () =>
    'the trip plugs in, but the rig has no mains charger: nothing is charged then; if there is one, add it to the rig, such as mains: { current: 20 A }',
  drive_without_alternator: () =>
    'the trip drives, but the rig has no alternator: driving charges nothing; if it does, add alternator to the rig',
};

export function shownFinding(finding: Finding): ShownFinding {
  return { ...finding, text: sentence(FINDING_WORDS, finding) };
}

/** What is to be known of a rig, gravest first, in words. */
export function rigFindings(rig: Rig, trip?: Trip): ShownFinding[] {
  return checkRig(rig, trip).map(shownFinding);
}
