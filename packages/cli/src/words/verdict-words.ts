import type { Rig, Run, Trouble } from '@stayput/core';
import type { TroubleArgs } from '@stayput/core/model';
import { energy, fixed, hours, momentText, percent } from '../show/number.js';
import { oneLine } from '../show/style.js';
import { wholePercent } from './figures.js';
import { OVERLOAD_WORDS } from './overload-words.js';

/** The answer of a run: the same in every text, page and picture. */
export interface Verdict {
  readonly tone: 'good' | 'low' | 'flat';
  /** what happened, by its cause, with its first time and its duration */
  readonly text: string;
  /** what else went wrong, a line each, gravest first */
  readonly others: readonly string[];
}

/** The answer by its cause: the gravest of what went wrong; only without any is it an all-clear. */
export function verdict(rig: Rig, { summary, troubles }: Run): Verdict {
  const { floor } = rig.battery;
  const lowest = `lowest ${percent(summary.lowestSoc, floor)} on ${momentText(summary.lowestAt)}`;
  const [first, ...rest] = troubles;
  const others = rest.map(troubleText);
  if (!first)
    return { tone: 'good', text: `Never runs flat: ${lowest}, above the floor of ${percent(floor)}.`, others };
  const said = troubleText(first);
  if (first.level === 'careful' && !isOverload(first.code))
    return { tone: 'low', text: `Never runs flat, but ${said}; ${lowest}.`, others };
  const battery = first.code === 'ran_flat' ? '' : ` The battery: ${lowest}.`;
  return { tone: first.level === 'bad' ? 'flat' : 'low', text: `${capital(said)}.${battery}`, others };
}

const isOverload = (code: Trouble['code']) => code in OVERLOAD_WORDS;
const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);

/** When a trouble began and how long it lasted, in words; absent = the run does not show it. */
interface When {
  readonly on: string;
  readonly lasted: string;
}

/** What went wrong, in one clause. */
export function troubleText(trouble: Trouble): string {
  const { code, args, firstAt, hours: lastedH } = trouble;
  const when =
    firstAt === undefined || lastedH === undefined ? undefined : { on: momentText(firstAt), lasted: hours(lastedH) };
  if (isOverload(code)) {
    const what = OVERLOAD_WORDS[code as keyof typeof OVERLOAD_WORDS](args as never);
    const seen = when ? `; first on ${when.on}, ${when.lasted} in all` : '';
    const isCertain = when !== undefined || ('names' in args && args.names.length === 1);
    return oneLine(`${isCertain ? 'overload' : 'overload is possible'}: ${what}${seen}`);
  }
  const say = TROUBLE_WORDS[code as keyof typeof TROUBLE_WORDS] as (args: unknown, when: When) => string;
  return oneLine(say(args, when ?? { on: 'some day', lasted: 'a while' }));
}

type Words = {
  readonly [Code in Exclude<keyof TroubleArgs, keyof typeof OVERLOAD_WORDS>]: (
    args: TroubleArgs[Code],
    when: When,
  ) => string;
};

const TROUBLE_WORDS: Words = {
  ran_flat: ({ loads, refusedWh }, { on, lasted }) =>
    loads.length === 0
      ? `runs flat on ${on}: cut off for ${lasted}, with nothing running`
      : refusedWh === undefined
        ? `runs flat on ${on}: ${listed(loads)} without power for ${lasted}`
        : `too cold to charge: runs flat on ${on} as the cold battery had refused ${energy(refusedWh)}; ${listed(loads)} without power for ${lasted}`,
  cut_off: ({ soc, loads, disconnectV }, { on, lasted }) =>
    `cut off on ${on} with the battery at ${percent(soc)}, as ${disconnectV === undefined ? 'more was asked than battery and cables can give' : `its voltage fell to the disconnect of ${disconnectV} V`}: ${listed(loads)} without power for ${lasted}`,
  cold_cut_off: ({ soc, loads, batteryC }, { on, lasted }) =>
    `too cold to give power on ${on}, with the battery at ${percent(soc)} and ${fixed(batteryC, 0)} °C: ${listed(loads)} without power for ${lasted}`,
  fridge_off: ({ name, cutOuts, byDrop, lowestSoc, highestSoc }, { on, lasted }) =>
    byDrop === cutOuts
      ? `thin cable: from ${on} ${name} switches itself off for ${lasted}, by the drop in its cable alone, with the battery at ${betweenText(lowestSoc, highestSoc)}`
      : `low voltage: from ${on} ${name} switches itself off for ${lasted}${byDrop > 0 ? ', partly by the drop in its cable' : ''}, with the battery at ${betweenText(lowestSoc, highestSoc)}`,
  inverter_off: ({ loads, cutOuts, byDrop, lowestSoc, highestSoc }, { on, lasted }) =>
    `inverter: from ${on} it switches itself off ${times(cutOuts)} at low voltage${byDrop === cutOuts ? ', by the drop in its cable alone' : ''}, with the battery at ${betweenText(lowestSoc, highestSoc)}: ${listed(loads)} without power for ${lasted}`,
  load_off: ({ name, lowestSoc, highestSoc }, { on, lasted }) =>
    `thin cable: from ${on} ${name} does not run for ${lasted}, as its cable brings its power at no current, with the battery at ${betweenText(lowestSoc, highestSoc)}`,
  inverter_limit: ({ loads }, { on, lasted }) =>
    `inverter too small: from ${on} ${listed(loads)} get less than they ask for, for ${lasted}`,
  too_hot: ({ name, setpointC, warmestC }, { on, lasted }) =>
    `too hot: from ${on} ${name} runs without pause and does not reach ${setpointC} °C for ${lasted}, ${warmestC.toFixed(1)} °C at the warmest`,
  food_too_warm: ({ name, warmestC, warmAboveC }, { on, lasted }) =>
    `${name} is too warm for food (above ${fixed(warmAboveC, warmAboveC % 1 === 0 ? 0 : 1)} °C) for ${lasted} from ${on}, ${warmestC.toFixed(1)} °C at the warmest`,
  food_freezes: ({ name, freezesC }, { on, lasted }) =>
    `what is in ${name} freezes (below ${freezesC} °C) for ${lasted} from ${on}`,
  too_cold_to_charge: ({ refusedWh }, { on, lasted }) =>
    `the battery is too cold to charge for ${lasted} from ${on}, and ${energy(refusedWh)} are refused`,
  cabin_too_cold: ({ heatedC, coldestC }, { on, lasted }) =>
    `the cabin is not kept at ${heatedC} °C for ${lasted} from ${on}, ${fixed(coldestC, 0)} °C at the coldest`,
  below_floor: ({ floor }, { on, lasted }) =>
    `the battery is below the floor of ${percent(floor)} for ${lasted} from ${on}`,
};

const times = (count: number) => (count === 1 ? 'once' : `${count} times`);

function betweenText(lowest: number, highest: number): string {
  const [from, to] = [wholePercent(lowest), wholePercent(highest)];
  return from === to ? from : `${from} to ${to}`;
}

const MAX_NAMES = 3;

/** "fridge", "fridge and lamp", "fridge, lamp and 3 more loads" */
function listed(names: readonly string[]): string {
  const shown =
    names.length > MAX_NAMES ? [...names.slice(0, MAX_NAMES - 1), `${names.length - MAX_NAMES + 1} more loads`] : names;
  if (shown.length < 2) return shown[0] ?? 'loads';
  return `${shown.slice(0, -1).join(', ')} and ${shown.at(-1)}`;
}
