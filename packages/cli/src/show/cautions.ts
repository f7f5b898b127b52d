import { type Rig, WIRE_CAUTIONS } from '@stayput/core';

/** What stands under every page about a rig: batteries, fuses and cables can burn a vehicle down. */
export function cautionsFor({ battery: { chemistry }, inverter, mains }: Rig): string[] {
  return [
    ...WIRE_CAUTIONS,
    chemistry === 'LFP'
      ? 'LFP cells must not be charged below freezing: it harms them for good, and its battery management must prevent it.'
      : 'Lead-acid batteries give off hydrogen while they charge: vent them to the outside and keep sparks away.',
    ...(inverter || mains
      ? [
          'Mains voltage can kill, from an inverter too: sockets and a residual-current device are for a licensed person.',
        ]
      : []),
    'Weather, loads and parts differ from what is assumed: do not trust medicine or a life to a forecast.',
  ];
}
