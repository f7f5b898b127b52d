import fc from 'fast-check';

const real = (min: number, max: number) =>
  fc.double({ min, max, noNaN: true }).map((value) => Number(value.toPrecision(4)));
const optional = <T>(value: fc.Arbitrary<T>) => fc.option(value, { nil: undefined });

const cable = fc
  .record({ length: real(0.5, 9), section: fc.constantFrom(1.5, 2.5, 4, 6, 10, 16, 25) })
  .map(({ length, section }) => ({
    length: `${length} m`,
    section: `${section} mm2`,
  }));

const battery = fc.record({
  chemistry: fc.constantFrom('LFP', 'AGM', 'gel', 'flooded'),
  capacityAh: real(20, 400),
  count: fc.integer({ min: 1, max: 3 }),
  stands: fc.constantFrom('cabin', 'outside', 'engine bay'),
  health: real(60, 100),
  cable: optional(cable),
});

const array = fc.record({
  power: real(40, 400),
  count: fc.integer({ min: 1, max: 3 }),
  mount: fc.constantFrom('bonded', 'gap', 'rack', 'ground'),
  tilt: real(0, 60),
  azimuth: real(0, 359),
  kind: fc.constantFrom('MPPT', 'PWM'),
  current: real(5, 40),
  cable: optional(cable),
  shade: fc.boolean(),
});

const load = fc.oneof(
  fc.record({
    power: real(1, 120).map((watts) => `${watts} W`),
    inverter: fc.boolean(),
    hours: real(0.2, 20).map((hours) => `${hours} h`),
    cable: optional(cable),
  }),
  fc.record({
    current: real(0.05, 8).map((amps) => `${amps} A`),
    when: fc.constantFrom('sunset to 22:30', '22:00 to 06:00', '09:00 to 17:00'),
    cable: optional(cable),
  }),
  fc.record({
    current: real(1, 8).map((amps) => `${amps} A`),
    times: fc.integer({ min: 1, max: 30 }),
    lasts: real(10, 300).map((s) => `${s} s`),
  }),
  fc.record({
    power: fc.constantFrom('clamp(4 * (cabin - 24), 0, 30)', 'soc > 0.5 ? 40 : 5', '10 + 5 * sin(hour / 4)'),
  }),
);

const fridge = fc.record({
  volume: real(20, 90),
  setpoint: real(-18, 8),
  insulation: real(25, 70),
  contents: real(1, 30),
  cutOut: real(9.6, 11.2),
  cable: optional(cable),
});

/** A rig's file as JSON text (JSON is YAML): random, but one that could be built. */
export const rigText: fc.Arbitrary<string> = fc
  .record({
    battery,
    arrays: fc.array(array, { maxLength: 2 }),
    alternator: optional(fc.record({ kind: fc.constantFrom('dcdc', 'relay'), current: real(10, 60), cable })),
    mains: optional(real(5, 40)),
    fridges: fc.array(fridge, { maxLength: 2 }),
    loads: fc.array(load, { minLength: 1, maxLength: 5 }),
    gain: real(0, 15),
  })
  .map(({ battery: b, arrays, alternator, mains, fridges, loads, gain }) =>
    JSON.stringify({
      name: 'random',
      battery: {
        chemistry: b.chemistry,
        capacity: `${b.capacityAh} Ah`,
        count: b.count,
        stands: b.stands,
        health: `${b.health} %`,
        cable: b.cable,
      },
      solar: arrays.map((a, k) => ({
        name: `array ${k}`,
        power: `${a.power} W`,
        count: a.count,
        mount: a.mount,
        tilt: `${a.tilt} deg`,
        azimuth: `${a.azimuth} deg`,
        controller: { kind: a.kind, current: `${a.current} A` },
        cable: a.cable,
        ...(a.shade && { shade: [{ from: '07:00', to: '10:15', keeps: '35 %' }] }),
      })),
      alternator: alternator && {
        rating: '140 A',
        charger: alternator.kind === 'dcdc' ? { kind: 'dcdc', current: `${alternator.current} A` } : { kind: 'relay' },
        cable: alternator.cable,
      },
      mains: mains === undefined ? undefined : { current: `${mains} A` },
      inverter: { rating: '600 W', standby: '6 W' },
      cabin: { gain: `${gain} K` },
      loads: [
        ...fridges.map((f, k) => ({
          name: `fridge ${k}`,
          kind: 'fridge',
          volume: `${f.volume} L`,
          setpoint: `${f.setpoint} degC`,
          insulation: `${f.insulation} mm`,
          contents: `${f.contents} kg`,
          cutOut: `${f.cutOut} V`,
          cutIn: `${f.cutOut + 1.3} V`,
          cable: f.cable,
        })),
        ...loads.map((one, k) => ({ name: `load ${k}`, ...one })),
      ],
    }),
  );

/** A trip of up to nine days anywhere on Earth, in any season, with drives and mains. */
export const tripText: fc.Arbitrary<string> = fc
  .record({
    lat: real(-78, 78),
    lon: real(-180, 180),
    month: fc.integer({ min: 1, max: 12 }),
    day: fc.integer({ min: 1, max: 28 }),
    nights: fc.array(fc.integer({ min: 1, max: 4 }), { minLength: 1, maxLength: 2 }),
    drive: real(0, 5),
    mains: real(0, 8),
    shade: real(0, 90),
    startSoc: real(5, 100),
    weather: fc.constantFrom('clear', 'climate', 'dull'),
  })
  .map(({ lat, lon, month, day, nights, drive, mains, shade, startSoc, weather }) =>
    JSON.stringify({
      name: 'random',
      startSoc: `${startSoc} %`,
      weather,
      stops: nights.map((count, k) => ({
        at: [lat, lon],
        ...(k === 0 && { from: `2026-${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}` }),
        nights: count,
        drive: `${drive} h`,
        mains: `${mains} h`,
        shade: `${shade} %`,
      })),
    }),
  );
