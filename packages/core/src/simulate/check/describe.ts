import { batteryModel, storedWh } from '../../battery/index.js';
import { demandedHours, fridgeModel } from '../../load/index.js';
import { formatClock, formatQuantity, formatWindows } from '../../quantity/index.js';
import {
  type Battery,
  type Cable,
  type Limit,
  type Load,
  type Rig,
  requireSound,
  type ShadeWindow,
} from '../../rig/index.js';

/** Some lines under a heading. */
export interface Paragraph {
  readonly heading: string;
  readonly lines: readonly string[];
}

/** The resolved rig in plain words, part by part, so that its owner can see whether it is theirs. */
export function describeRig(rig: Rig): Paragraph[] {
  requireSound('describeRig', 'rig', rig);
  const paragraphs: Paragraph[] = [{ heading: 'Battery', lines: batteryLines(rig) }];
  if (rig.solar.length > 0)
    paragraphs.push({ heading: 'Solar', lines: rig.solar.flatMap((_, k) => arrayLines(rig, k)) });
  const charging = chargingLines(rig);
  if (charging.length > 0) paragraphs.push({ heading: 'Other charging', lines: charging });
  if (rig.inverter) paragraphs.push({ heading: 'Inverter', lines: [inverterLine(rig.inverter)] });
  if (rig.loads.length > 0) paragraphs.push({ heading: 'Loads', lines: rig.loads.map((load) => loadLine(load)) });
  paragraphs.push({ heading: 'Cabin', lines: [cabinLine(rig)] });
  const totals = massAndPrice(rig);
  if (totals) paragraphs.push({ heading: 'Mass and price', lines: [totals] });
  return paragraphs;
}

function cabinLine({ cabin: { gainK, heatedC } }: Rig): string {
  const heating = heatedC === undefined ? 'not heated' : `heated to ${heatedC} °C`;
  return `${heating}; up to ${Number(gainK.toPrecision(3))} K warmer than outside in full sun`;
}

function batteryLines(rig: Rig): string[] {
  const { battery } = rig;
  const model = batteryModel(battery);
  const bank = [
    battery.series > 1 && `${battery.series} in series`,
    battery.count > 1 && `${battery.count} in parallel`,
  ]
    .filter(Boolean)
    .join(', ');
  const usableWh = storedWh(model, 1) - storedWh(model, battery.floor);
  return [
    `${battery.chemistry}, ${formatQuantity(battery.capacityAh, 'charge')}${bank ? `, ${bank}` : ''}${battery.health < 1 ? `, ${percent(battery.health)} left of it` : ''}: ${Math.round(storedWh(model, 1))} Wh when full`,
    `${Math.round(usableWh)} Wh of that above the floor of ${percent(battery.floor)}; loads are cut at ${limitText(battery.disconnect)} and come back at ${limitText(battery.reconnect)}`,
    `stands ${battery.stands === 'outside' ? 'outside' : `in the ${battery.stands}`}; ${setPoints(rig)}`,
    `takes ${atMost(battery.maxChargeA)}, gives ${atMost(battery.maxDischargeA ?? Infinity)}`,
    ...coldLines(battery),
    ...(battery.cable ? [`main cable ${cableText(battery.cable)}`] : []),
  ];
}

/** The set points of the chargers that are there, which may differ from the battery's own. */
function setPoints({ battery, solar, alternator, mains }: Rig): string {
  const chargers = [
    ...solar.map(({ name, controller }) => ({ name, charge: controller.charge })),
    ...(alternator?.charger.kind === 'dcdc' ? [{ name: 'the DC-DC charger', charge: alternator.charger.charge }] : []),
    ...(mains ? [{ name: 'the mains charger', charge: mains.charge }] : []),
  ];
  const names = new Map<string, string[]>();
  for (const { name, charge } of chargers) {
    const { absorptionV, floatV } = { ...battery.charge, ...charge };
    const volts = `charged to ${absorptionV} V, then held at ${floatV} V`;
    names.set(volts, [...(names.get(volts) ?? []), name]);
  }
  if (names.size === 0) return `charged to ${battery.charge.absorptionV} V, then held at ${battery.charge.floatV} V`;
  if (names.size === 1) return [...names.keys()][0]!;
  return [...names].map(([volts, by]) => `${volts} by ${by.join(' and ')}`).join(', ');
}

function coldLines({ chargeMinC, heater }: Battery): string[] {
  if (chargeMinC === undefined) return [];
  const warmed = heater ? `; a heater of ${heater.powerW} W starts below ${heater.belowC} °C` : '';
  return [`takes no charge when its cells are below ${chargeMinC} °C${warmed}`];
}

function arrayLines(rig: Rig, index: number): string[] {
  const array = rig.solar[index]!;
  const { controller } = array;
  const aim =
    array.reaimedPerDay > 0
      ? `turned to the sun ${array.reaimedPerDay} times a day`
      : array.tiltDeg === 0
        ? 'flat'
        : `tilted ${array.tiltDeg}° ${array.azimuthDeg === undefined ? 'toward the equator' : `toward ${array.azimuthDeg}°`}`;
  const mount = {
    bonded: 'bonded to the roof',
    gap: 'with a gap under it',
    rack: 'on a rack',
    ground: 'on the ground',
  }[array.mount];
  const { soiling, mismatch, ageing, other } = array.losses;
  const lost = 1 - (1 - soiling) * (1 - mismatch) * (1 - ageing) * (1 - (other ?? 0));
  return [
    `${array.name}: ${array.count > 1 ? `${array.count} × ` : ''}${formatQuantity(array.powerW, 'power')}, ${aim}, ${mount}; ${percent(lost)} lost to dirt, mismatch${other === undefined ? ' and age' : ', age and what was found by measuring'}`,
    `  ${controller.kind} controller, ${controller.currentA} A${array.cable ? `, panel cable ${cableText(array.cable)}` : ''}${array.shade.length > 0 ? `; shaded ${array.shade.map(shadeText).join(', ')}` : ''}`,
  ];
}

function shadeText({ fromH, toH, keeps, edge }: ShadeWindow): string {
  const at = (hour: number) => formatClock({ kind: 'clock', hour });
  return `${at(fromH)} to ${at(toH)} (${percent(keeps)} of the direct sun left${edge === 'soft' ? ', soft' : ''})`;
}

function chargingLines({ alternator, mains, solar }: Rig): string[] {
  const lines: string[] = [];
  if (alternator) {
    const { charger } = alternator;
    const by =
      charger.kind === 'dcdc'
        ? `a DC-DC charger of ${charger.currentA} A${charger.sharedWithSolar && solar.length > 0 ? ', in one box with the solar controller: together no more than that' : ''}`
        : 'a relay';
    const held =
      alternator.lowVoltageV !== undefined
        ? `as low as ${alternator.lowVoltageV} V`
        : alternator.perDegreeV
          ? `${alternator.voltageV} V at 25 °C, ${formatQuantity(alternator.perDegreeV, 'voltagePerKelvin')}`
          : `${alternator.voltageV} V`;
    lines.push(
      `alternator ${alternator.ratingA} A at ${held} through ${by}${alternator.cable ? `, cable ${cableText(alternator.cable)}` : ''}`,
    );
  }
  if (mains) lines.push(`mains charger ${mains.currentA} A`);
  return lines;
}

function inverterLine({ ratingW, standbyW, on, cutOutV }: NonNullable<Rig['inverter']>): string {
  return `${formatQuantity(ratingW, 'power')}, ${standbyW} W by itself, ${on === 'always' ? 'always on' : 'on with its loads'}, off below ${cutOutV} V`;
}

function loadLine(load: Load): string {
  const cable = load.cable ? `; cable ${cableText(load.cable)}` : '';
  if (load.kind === 'fridge') {
    const model = fridgeModel(load);
    const rooms = model.rooms
      .map((room) => `${Number(room.volumeL.toPrecision(3))} L kept at ${room.setpointC} °C`)
      .join(' and ');
    const cover = load.cover > 0 ? `, ${percent(load.cover)} less by its cover` : '';
    return `${load.name}: ${rooms}; lets in ${model.uaWPerK.toFixed(2)} W of heat per degree between inside and outside (from its ${model.uaFrom}${cover}); its own cut-out is at ${load.cutOutV} V${cable}`;
  }
  const { draw } = load;
  const strength =
    draw.kind === 'power'
      ? formatQuantity(draw.powerW, 'power')
      : draw.kind === 'current'
        ? formatQuantity(draw.currentA, 'current')
        : `${draw.text} W`;
  const hours = demandedHours(load);
  const when =
    load.timesPerDay !== undefined && load.lastsH !== undefined
      ? `, ${load.timesPerDay} times a day for ${durationText(load.lastsH)}`
      : hours !== undefined
        ? `, ${durationText(hours)} a day${load.when.length > 0 ? `, ${formatWindows(load.when)}` : ''}`
        : `, ${formatWindows(load.when)}`;
  const rest = [
    load.inverter && 'behind the inverter',
    load.weekdays && `only on ${load.weekdays.map((day) => WEEKDAYS[day]).join(', ')}`,
    load.months && `only in ${load.months.map((month) => MONTHS[month - 1]).join(', ')}`,
    load.everyDays > 1 && `every ${load.everyDays} days`,
    load.share < 1 && `${percent(load.share)} of it`,
    load.starterSide && 'on the starter battery: not counted',
  ].filter(Boolean);
  return `${load.name}: ${strength}${when}${rest.length > 0 ? ` (${rest.join(', ')})` : ''}${cable}`;
}

const WEEKDAYS = ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat'];
const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

function massAndPrice(rig: Rig): string | undefined {
  const parts = [
    { count: rig.battery.count * rig.battery.series, massKg: rig.battery.massKg, price: rig.battery.price },
    ...rig.solar.map(({ count, massKg, price }) => ({ count, massKg, price })),
  ];
  const sum = (pick: (part: (typeof parts)[number]) => number | undefined) =>
    parts.some((part) => pick(part) !== undefined)
      ? parts.reduce((total, part) => total + part.count * (pick(part) ?? 0), 0)
      : undefined;
  const massKg = sum((part) => part.massKg);
  const price = sum((part) => part.price);
  if (massKg === undefined && price === undefined) return undefined;
  return `${[
    massKg !== undefined && `${Number(massKg.toPrecision(4))} kg`,
    price !== undefined && `${price}${rig.currency ? ` ${rig.currency}` : ''}`,
  ]
    .filter(Boolean)
    .join(', ')} for battery and panels, as far as given`;
}

function limitText(limit: Limit): string {
  return limit.kind === 'soc' ? percent(limit.soc) : `${limit.voltageV} V`;
}

function cableText(cable: Cable): string {
  return `${cable.lengthM} m of ${cable.gaugeAwg ? `${cable.gaugeAwg} AWG` : `${cable.sectionMm2} mm²`}`;
}

function atMost(amps: number): string {
  return Number.isFinite(amps) ? `at most ${Number(amps.toPrecision(3))} A` : 'what is asked';
}

function percent(share: number): string {
  return `${Math.round(100 * share)} %`;
}

function durationText(hours: number): string {
  const [value, unit] = hours >= 1 ? [hours, 'h'] : hours >= 1 / 60 ? [hours * 60, 'min'] : [hours * 3600, 's'];
  return `${Number(value.toPrecision(3))} ${unit}`;
}
