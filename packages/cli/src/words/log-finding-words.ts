import type { LogFinding } from '@stayput/core';
import type { LogFindingCode } from '@stayput/core/model';
import { counted, fixed, percent, significant } from '../show/number.js';

/** A finding of a log in words: what it means and what to look at, and what it was seen in. */
export interface LogFindingWords {
  readonly text: string;
  readonly evidence: string;
}

type Args = LogFinding['args'];
type Wording = (finding: LogFinding, args: Figures) => LogFindingWords;

/** Reads figures and lists of a finding by name. */
interface Figures {
  number(name: string): number;
  text(name: string): string;
  list(name: string): readonly string[];
}

const figuresOf = (args: Args): Figures => ({
  number: (name) => Number(args[name]),
  text: (name) => String(args[name]),
  list: (name) => (Array.isArray(args[name]) ? (args[name] as readonly string[]) : []),
});

/** The finding with its words, as the JSON document and all texts have it. */
export function wordedLogFinding(finding: LogFinding): LogFinding & LogFindingWords {
  return { ...finding, ...WORDS[finding.code](finding, figuresOf(finding.args)) };
}

const amps = (value: number) => `${fixed(value, 2)} A`;
const volts = (value: number) => `${fixed(value, 1)} V`;
const clock = (hour: number) => `${String(hour).padStart(2, '0')}:00`;
const aDay = (ampere: number) => `${Math.round(24 * ampere)} Ah a day`;
const interval = ({ size }: LogFinding, say: (value: number) => string) =>
  size ? `90 % interval ${say(size.low)} to ${say(size.high)}` : '';
const dates = (list: readonly string[]) => `${list.slice(0, 5).join(', ')}${list.length > 5 ? ' …' : ''}`;

const WORDS: Readonly<Record<LogFindingCode, Wording>> = {
  log_clock: (finding, { number }) =>
    Number.isNaN(number('aheadMin'))
      ? {
          text: `The log's clock does not fit the sun, and makes night of day: the middle of the harvest lies at ${fixed(number('centreH'), 1)} h. Its zone is another one (--zone), or the monitor's clock is set wrong.`,
          evidence: "the centre of the day's harvest, over the whole log",
        }
      : {
          text: `The log's clock is ${Math.abs(Math.round(number('aheadMin')))} min ${number('aheadMin') > 0 ? 'ahead of' : 'behind'} the sun: the zone is another one (--zone), or the monitor's clock is set wrong. The log is judged with its clock set right.`,
          evidence: `harvest against light, where nothing but the sun limits it: they agree to ${fixed(number('asIs'), 2)} as the clock stands and to ${fixed(number('best'), 2)} moved by that (1 = fully); first and last light on ${counted(number('days'), 'day')} say the same; ${interval(finding, (min) => `${Math.round(min)} min`)}`,
        },
  monitor_zero: (finding, { number }) => ({
    text: `The current reads ${amps(Math.abs(number('amps')))} too ${number('amps') < 0 ? 'negative' : 'positive'} all the time: the zero of the monitor wants setting. ${number('amps') < 0 ? 'A charger whose cable passes by the shunt would look the same: look for one before you set the zero.' : 'A load whose cable passes by the shunt would look the same: look for one before you set the zero.'} The log is judged with that taken off.`,
    evidence: `between ${counted(number('fulls'), 'full charge')} (voltage and small current together) over ${counted(Math.round(number('days')), 'day')} the counted charge comes to ${fixed(number('ahDay'), 1)} Ah a day though the battery is as full again; ${interval(finding, amps)}`,
  }),
  counter_setting: (_, { number }) => ({
    text: `The monitor counts 100 % as ${Math.round(number('counterAh'))} Ah, the rig has ${Math.round(number('bankAh'))} Ah: one of the two is set wrong, and its percentages do not mean what they say until that is corrected. It is no measurement of the battery.`,
    evidence: 'charge counted against the change of the state of charge',
  }),
  counter_set: (_, { text, number }) => ({
    text: `On ${text('date')} the monitor's state of charge jumped from ${percent(number('from'))} to ${percent(number('to'))} without a full charge: it was restarted, or set itself to full too early. What it shows after that is too high.`,
    evidence: `${fixed(number('volts'), 2)} V and ${amps(number('amps'))} at that moment`,
  }),
  counter_drift: (_, { number, text }) =>
    Number.isNaN(number('days'))
      ? {
          text: `The monitor's state of charge runs low: it jumps up to full by ${percent(number('mean'))} each time the battery is full. What it shows before a full charge is that much too low; its charge efficiency or its zero point wants setting.`,
          evidence: `${number('jumps')} jumps to full`,
        }
      : {
          text: `The monitor was not set right by a full charge for ${Math.round(number('days'))} days on end: by then its state of charge has drifted and means little. Charge the battery fully, once a week or two at least.`,
          evidence: `longest time without a full charge in the log, by ${text('by')}`,
        },
  panel_even: (finding, { number }) => ({
    text: `Your panel gives ${percent(number('share'))} of what it should, about evenly over the day: look for dirt, a panel weaker than its label, a poor joint, or one of several panels that is off.`,
    evidence: `${interval(finding, percent)}; harvest against light on ${counted(number('days'), 'day')}, where the battery took all`,
  }),
  panel_step: (finding, { number, text }) => ({
    text:
      text('kind') === 'since'
        ? `Your panel gives ${percent(number('keeps') * number('level'))} of what it should since ${finding.since}, and gave ${percent(number('level'))} before. Look for what changed that day: part of an array off, a plug, a fuse, a branch over it, snow or dirt, a setting of the controller.`
        : `Until ${finding.until} your panel gave ${percent(number('keeps') * number('level'))} of what it should, and gives ${percent(number('level'))} since: what held it back is gone.`,
    evidence: `harvest against light where the battery took all, ${counted(number('days'), 'day')} with the loss; what is lost: ${interval(finding, percent)}`,
  }),
  panel_shade: (finding, { number, text, list: _ }) => {
    const when = finding.since
      ? finding.until
        ? ` from ${finding.since} to ${finding.until}`
        : ` since ${finding.since}`
      : '';
    const isHours = text('kind').startsWith('hours');
    const hours = isHours ? `from ${clock(number('fromHour'))} to ${clock(number('toHour'))}` : 'all day';
    return {
      text: `Something shades your panel ${hours}${when}: it gives ${percent(number('keeps'))} then of what it gives else. That costs ${percent(number('lostShare'))} of the harvest of those days. Look for a tree, a hill, a building, a roof box.`,
      evidence: `harvest against light by hour, on ${counted(number('days'), 'day')} with it; outside it the panel gives ${percent(number('level'))} of what it should; what is lost: ${interval(finding, percent)}`,
    };
  },
  panel_clipped: (_, { number }) => ({
    text: `The harvest never passes ${Math.round(number('topW'))} W, about ${Math.round(number('topA'))} A, while the light goes on rising: the controller's limit caps it, at a cost of up to ${Math.round(number('lostWhDay'))} Wh a day. A larger controller would let it through, if the wires bear it.`,
    evidence: `${number('steps')} steps on ${number('days')} days within ${percent(number('flat'))} of ${Math.round(number('topW'))} W where ${percent(number('above'))} of it or more was to be expected`,
  }),
  charge_ends_early: (finding, { number, list }) => ({
    text: `The charge from the sun ends at ${fixed(number('volts'), 2)} V${number('perKelvin') ? ' (brought to 25 °C)' : ''}, not at the ${volts(number('due'))} that the rig says: the absorption voltage of the controller is set too low, or its cable drops the difference. A battery that is charged so is hardly ever full.`,
    evidence: `on ${counted(number('days'), 'day')} the voltage rises under a full charging current and is then held flat there (${dates(list('dates'))}), and without the engine never goes beyond; ${interval(finding, (one) => `${fixed(one, 2)} V`)}`,
  }),
  charge_cold: (_, { number, text }) => ({
    text: `The battery refused its charge in the cold, as ${text('chemistry')} must: ${fixed(number('hours'), 1)} h of sun, ${Math.round(number('lostWh'))} Wh, were lost to it. A place in the warmth or a heater would bring them in.`,
    evidence: `next to no harvest in the sun on ${counted(number('days'), 'day')} with the cells near ${fixed(number('belowC'), 0)} °C or below`,
  }),
  charge_below_freezing: (_, { number }) => ({
    text: `The battery was charged below ${number('limitC')} °C, down to ${fixed(number('coldestC'), 0)} °C: that plates metal inside LFP cells and can make them unsafe. Its cold cut-off does not work, or the sensor does not sit on the cells. Stop charging in the cold until a qualified person has looked at it.`,
    evidence: `${fixed(number('hours'), 1)} h of charge above ${fixed(number('minA'), 1)} A with the sensor more than a degree below`,
  }),
  engine_weak: (finding, { number, list }) => ({
    text: `The engine ${finding.since ? 'no longer charges' : 'does not charge'} the house battery: ${finding.since ? 'the last ' : ''}${counted(list('drives').length, 'drive')} gave ${amps(Math.max(0, number('amps')))} where the charger is rated ${Math.round(number('ratedA'))} A. Look for its fuse, the signal that starts it, its cables, the charger itself.`,
    evidence: `current into the battery beyond the sun during the drives of ${dates(list('drives'))}, with room in the battery${number('good') > 0 ? `; ${Math.round(number('goodA'))} A on ${counted(number('good'), 'drive')} before` : ''}`,
  }),
  capacity_low: (_, { number }) => ({
    text: `The battery holds about ${Math.round(number('ah'))} Ah where the rig has ${Math.round(number('bankAh'))} Ah: it is worn, was never that large, or one of several has dropped out. What the rig promises for the night is that much too long.`,
    evidence: `voltage against charge counted since it was last full, down to the knee; 90 % interval ${Math.round(number('low'))} to ${Math.round(number('high'))} Ah`,
  }),
  main_resistance: (finding, { number }) => ({
    text: `Between the battery and where the monitor measures there is some ${Math.round(1000 * finding.size!.value)} mΩ more since ${finding.since}: at ${Math.round(number('amps'))} A the voltage sinks ${volts(number('sagV'))} further, and disconnects open though the battery has charge. A joint that corrodes or a loose lug gets hot: switch the large loads off, and have a qualified person look at every joint and fuse of the main cable.`,
    evidence: `volts per ampere as loads come and go on ${counted(number('days'), 'day')}: ${fixed(1000 * number('beforeOhm'), 1)} mΩ before, ${fixed(1000 * number('sinceOhm'), 1)} mΩ since; ${interval(finding, (ohm) => `${fixed(1000 * ohm, 0)} mΩ`)} more`,
  }),
  draw_unlisted: (finding, { number }) =>
    finding.since
      ? {
          text: `Something draws ${amps(number('amps'))} more day and night since ${finding.since} than before: ${aDay(number('amps'))}. Look for what was left on or added then: an inverter in standby, a charger, a router, an alarm.`,
          evidence: `quiet hours: ${amps(number('beforeA'))} on ${counted(number('nightsBefore'), 'night')} before, ${amps(number('sinceA'))} on ${number('nightsSince')} since; ${amps(number('listedA'))} are listed; ${interval(finding, amps)}`,
        }
      : {
          text: `Something draws ${amps(number('amps'))} day and night that the rig does not list: ${aDay(number('amps'))}. Look for what is left on: an inverter in standby, a charger, a router, an alarm; or list it.`,
          evidence: `quiet hours of ${counted(number('nights'), 'night')}, beyond the ${amps(number('listedA'))} that are listed; ${interval(finding, amps)}`,
        },
  fridge_high: (finding, { number }) => ({
    text: `The fridge takes ${significant(number('times'), 2)} times what its data sheet says in such warmth, from the first night on: a seal that leaks, a condenser without air, ice, little refrigerant, or a cabin much warmer than told. The log cannot tell which.`,
    evidence: `what comes and goes by night, heating left out, on ${counted(number('nights'), 'night')}, brought to a day: ${Math.round(number('tookWh'))} Wh against ${Math.round(number('shouldWh'))} Wh; ${interval(finding, (one) => significant(one, 2))} times`,
  }),
  fridge_climbing: (finding, { number }) => ({
    text: `The fridge takes ${significant(number('times'), 2)} times as much at night since ${finding.since} as before, the warmth of the nights taken into account. Look at its door seal, its condenser and the air behind it, and at what was put in.`,
    evidence: `what comes and goes at night: ${amps(number('beforeA'))} on average on ${counted(number('nightsBefore'), 'night')} before, ${amps(number('sinceA'))} on ${number('nightsSince')} since; ${interval(finding, (one) => significant(one, 2))} times`,
  }),
  fridge_without_pause: (finding, { number }) => ({
    text: `The fridge runs nearly without pause since ${finding.since}, though the nights are no warmer: it no longer cools as it did, and takes ${significant(number('times'), 2)} times as much at night. Check the food with a thermometer; have its refrigerant, condenser and fan looked at.`,
    evidence: `what comes and goes at night: ${amps(number('beforeA'))} on average on ${counted(number('nightsBefore'), 'night')} before, ${amps(number('sinceA'))} on ${number('nightsSince')} since; ${interval(finding, (one) => significant(one, 2))} times`,
  }),
  fridge_off: (_, { number, list }) => ({
    text: `The fridge did not run on ${counted(number('nights'), 'night')}: it was switched off, or cut out.`,
    evidence: `nights without its compressor, after the evenings of ${dates(list('evenings'))}`,
  }),
  fridge_wire: (finding, { number, list }) => ({
    text: `The fridge cuts out because of its wire: about ${volts(number('dropV'))} are lost in it while the compressor runs, so its cut-out at ${volts(number('cutOutV'))} comes with the battery still at ${volts(number('batteryV'))}. It was off after ${counted(number('nights'), 'evening')}. A thicker or shorter wire would keep it running; check the food with a thermometer.`,
    evidence: `nights without its compressor, after the evenings of ${dates(list('evenings'))}; drop by the wire's length and section, ${interval(finding, (one) => `${fixed(one, 1)} V`)}`,
  }),
  load_cut: (_, { number, list }) => ({
    text: number('isEarly')
      ? `All loads were cut at night though the battery had charge: whatever cuts them sees less voltage than the ${volts(number('lowestV'))} that were measured. Measure it there while the fridge runs: a thin or long cable or a poor joint before the disconnect is the usual cause; else it is set too high.`
      : `The load disconnect opened on ${counted(list('nights').length, 'night')}, with the battery as low as ${volts(number('lowestV'))}.`,
    evidence: `next to no current for half an hour or more, on ${dates(list('nights'))}`,
  }),
};
