/** What a starter rig says. */
export interface StarterOptions {
  /** @default "My rig" */
  readonly name?: string;
  /** where an editor finds the JSON Schema of a rig; @default the one shipped with the library */
  readonly schema?: string;
}

/** A commented rig to begin with: invented numbers of the usual size, every usual part, and it passes `readRig`. */
export function starterRig(options: StarterOptions = {}): string {
  const schema = options.schema ?? './node_modules/@stayput/core/schema/rig.schema.json';
  return `# yaml-language-server: $schema=${schema}
# A rig: what is bolted in. The numbers are invented: put yours in their place, and take out what you do not have.
# Only the battery and one load or panel are needed; "stayput check" lists every value that is assumed beside them.
name: ${JSON.stringify(options.name ?? 'My rig')}

battery:
  chemistry: LFP          # LFP, AGM, gel or flooded
  capacity: 100 Ah        # of one battery; lead-acid at the 20-hour rate
  count: 1                # in parallel
  floor: 20 %             # you never want to go below
  disconnect: 10 %        # loads are cut here; a voltage can stand here too: 11.2 V
  reconnect: 15 %
  stands: cabin           # cabin, outside or engine bay

solar:
  - name: roof
    power: 150 W          # nameplate of one module
    count: 1
    mount: gap            # bonded to the roof, gap under it, rack, or ground
    tilt: 0 deg           # 0 is flat
    controller: { kind: MPPT, current: 15 A }       # MPPT or PWM
    cable: { length: 4 m, section: 6 mm2 }          # one way; or gauge: 10 AWG

alternator:
  rating: 120 A
  charger: { kind: dcdc, current: 30 A }            # dcdc or relay
  cable: { length: 5 m, section: 25 mm2 }

# inverter: { rating: 300 W, standby: 5 W }         # for loads with "inverter: true"

cabin: { gain: 8 degC }   # warmer than outside at full sun

loads:
  - name: fridge
    kind: fridge
    volume: 40 L
    setpoint: 4 degC
    rated: { energy: 0.28 kWh/day, ambient: 25 degC }       # or the wall: insulation: 45 mm
    cable: { length: 4 m, section: 4 mm2 }
  - { name: lights, power: 8 W, when: sunset to 22:30 }
  - { name: phones, power: 12 W, hours: 2 }
  - { name: pump, current: 4 A, times: 10, lasts: 30 s }    # 10 times a day
  - { name: fan, power: "clamp(3 * (cabin - 25), 0, 20)" }  # W; may use ambient, cabin, hour, soc
  - { name: standby, current: 0.1 A }                       # what is never switched off
`;
}
