import type { Circuit } from '@stayput/core';
import type { CircuitFaultArgs, CircuitRemarkArgs } from '@stayput/core/model';
import { amps, sectionText } from './figures.js';
import { sentence, type Words } from './worded.js';

const percent = (share: number) => `${Number((100 * share).toPrecision(2))} %`;

export const FAULT_WORDS: Words<CircuitFaultArgs> = {
  cable_overloaded: ({ currentA, ampacityA, ambientC, fuseProtects, ...section }) =>
    `${amps(currentA)} is more than ${sectionText(section)} may carry here (${amps(ampacityA)} at ${ambientC} °C)${fuseProtects ? '' : ': it can burn'}`,
  no_fuse_large_enough: ({ currentA, largestFuseA }) =>
    `no fuse up to ${largestFuseA} A carries ${amps(currentA)} for long: split the circuit`,
  no_fuse_protects: ({ currentA, fuseA, ampacityA }) =>
    `the smallest fuse that carries ${amps(currentA)} is ${fuseA} A, more than the cable's ${amps(ampacityA)}`,
  fuse_too_large: ({ fittedFuseA, ampacityA, fuseA, largestFuseA, ...section }) =>
    `the ${fittedFuseA} A fuse does not protect ${sectionText(section)}, which may carry ${amps(ampacityA)}: ${
      fuseA === null ? 'no fuse suits both cable and load' : `use ${fuseA} A, and never more than ${largestFuseA} A`
    }`,
  fuse_too_small: ({ fittedFuseA, currentA }) =>
    `the ${fittedFuseA} A fuse opens at the ${amps(currentA)} that this circuit takes`,
  fuse_opens_at_start: ({ fittedFuseA, surgeA }) =>
    `the ${fittedFuseA} A fuse may open when it starts with ${amps(surgeA)}`,
  power_not_delivered: ({ powerW }) => `cannot deliver ${Math.round(powerW)} W at all`,
  drop_too_large: ({ dropShare, currentA, limitShare }) =>
    `loses ${percent(dropShare)} at ${amps(currentA)}, more than ${percent(limitShare)}`,
  start_voltage_low: ({ arrivesV, currentA, cutOutV }) =>
    `${arrivesV.toFixed(1)} V arrive when it starts with ${amps(currentA)}: ${
      cutOutV === undefined
        ? 'too little'
        : `its own cut-out at ${cutOutV} V switches it off though the battery is not empty`
    }`,
};

const hotPanel = ({ hotV, hotC }: { hotV: number; hotC: number }) =>
  `working at ${hotV.toFixed(1)} V with its cells at ${hotC.toFixed(0)} °C`;
const needed = (neededV: number) => `the ${neededV.toFixed(1)} V that charging and the controller need`;

export const REMARK_WORDS: Words<CircuitRemarkArgs> = {
  fuse_at_battery: () =>
    'fuse at the battery, within 200 mm of its terminal (ISO 10133), of a kind that breaks the several thousand amps of a short circuit: blade fuses stop at about 1000 A',
  fuse_at_both_ends: () => 'fuse at both ends: there is a battery at each',
  on_starter_battery: () => 'on the starter battery',
  drop_delays_absorption: () =>
    'what is lost here keeps the battery below absorption voltage while the controller measures that voltage at its own terminals',
  pwm_voltage_to_spare: ({ neededV, ...panel }) =>
    `a PWM controller keeps the panel at the battery's voltage, so what is lost here costs next to nothing while the hot module, ${hotPanel(panel)}, less this, still gives ${needed(neededV)}`,
  pwm_voltage_scarce: ({ neededV, ...panel }) =>
    `a PWM controller keeps the panel at the battery's voltage, and the hot module, ${hotPanel(panel)}, hardly gives ${needed(neededV)}: what is lost here costs current`,
};

/** What would do, where the cable or its fuse does not. */
function wayOut({ name, sectionMm2, adviseMm2, adviseAwg }: Advised): string {
  if (adviseMm2 === null) return 'no standard cable does: shorten the run or split the circuit';
  if (adviseMm2 === sectionMm2) return 'the cable itself is thick enough';
  return `use at least ${sectionText({ sectionMm2: adviseMm2, gaugeAwg: adviseAwg })} for ${name}`;
}

type Advised = Pick<Circuit, 'name' | 'sectionMm2' | 'adviseMm2' | 'adviseAwg' | 'faults' | 'remark'>;

/** What is wrong with a circuit, what would do, and what is to be known of it. */
export function adviceText(circuit: Advised): string {
  const { faults, remark } = circuit;
  return [
    ...faults.map((fault) => sentence(FAULT_WORDS, fault)),
    ...(faults.some(({ level }) => level !== 'note') ? [wayOut(circuit)] : []),
    ...(remark ? [sentence(REMARK_WORDS, remark)] : []),
  ].join('; ');
}

/** The same for any circuit, with a cable or without. */
export function circuitText(circuit: Circuit): string {
  if (circuit.lengthM !== null) return adviceText(circuit);
  const { remark } = circuit;
  return `no cable is given, so only its terminals are counted${remark ? `; ${sentence(REMARK_WORDS, remark)}` : ''}`;
}
