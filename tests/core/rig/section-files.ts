/** A rig with every usual part, as the design of the project shows it; all invented. */
export const HERON = `# a rig: what is bolted in                     # (all invented)
name: Heron
currency: EUR
battery:
  chemistry: LFP            # LFP | AGM | gel | flooded
  capacity: 100 Ah          # lead-acid: at the 20-hour rate
  count: 1                  # in parallel
  floor: 20 %               # the owner never wants to go below; default by chemistry
  disconnect: 10 %          # loads are cut here (or a voltage: 11.2 V), and come back at reconnect
  reconnect: 15 %
  stands: cabin             # cabin | outside | engine bay: which air it follows
  mass: 11.5 kg
  price: 410
solar:
  - name: roof
    power: 175 W            # nameplate (STC), each
    count: 1
    mount: bonded           # bonded | gap | rack | ground
    tilt: 0 deg
    azimuth: 180 deg        # 0 = north, clockwise; no matter when flat
    losses: { soiling: 4 %, mismatch: 2 % }
    shade: [{ from: "07:00", to: "09:30", keeps: 40 % }]     # share of direct sun left
    datasheet: { voc: 24.3 V, isc: 9.2 A, vmp: 20.4 V, imp: 8.6 A, tempPower: -0.36 %/degC }   # optional
    controller: { kind: MPPT, current: 20 A }                # MPPT | PWM
    cable: { length: 5 m, section: 6 mm2 }                   # one way; or gauge: 10 AWG
    mass: 3.1 kg
    price: 190
alternator:
  rating: 150 A
  charger: { kind: dcdc, current: 30 A }                     # dcdc | relay
  cable: { length: 5 m, section: 16 mm2 }
inverter: { rating: 600 W, standby: 7 W }
cabin: { gain: 8 degC }                                      # above ambient at full sun
loads:
  - name: fridge
    kind: fridge
    volume: 45 L
    setpoint: 4 degC
    rated: { energy: 0.33 kWh/day, ambient: 25 degC }        # or insulation: 45 mm
    cover: 15 %                                              # taken off the heat leak
    cutOut: 10.4 V
    cutIn: 11.7 V
    cable: { length: 4 m, section: 2.5 mm2 }
  - { name: lights, power: 9 W, when: sunset to 22:30 }
  - { name: laptop, power: 60 W, hours: 3, when: "09:00 to 17:00", inverter: true }
  - { name: pump, current: 5 A, times: 12, lasts: 40 s }     # 12 times a day
  - { name: fan, power: "clamp(4 * (cabin - 24), 0, 30)" }   # an expression in W
  - { name: always on, current: 0.15 A }
`;

export const NORTH_WEST = `# a trip: where, when, how
name: North-west coast in October
startSoc: 90 %
weather: climate            # clear | climate | dull | a file's name
stops:
  - { at: [41.7, -8.8], from: 2026-10-03, nights: 4, drive: 2 h, shade: 20 % }   # drive: engine hours to get there
  - { at: [43.6, -8.1], nights: 6, drive: 3 h, use: { laptop: 1.5 } }            # use: a load times so much
  - { place: Porto, nights: 1, drive: 4 h, mains: 8 h }
`;
