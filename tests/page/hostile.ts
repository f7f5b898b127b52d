/** Text that would break out of HTML, SVG or a style sheet if it were not escaped, as YAML's double quotes write it. */
const NASTY = '</title></style></svg><script>alert(1)</script> \\"q\\" \'s\' ]]> & &amp; {a|b} {b} <b onclick=x>';

const quoted = (name: string) => `"${name} ${NASTY}"`;

/** An invented rig whose every name is an attack … */
export const HOSTILE_RIG = `name: ${quoted('Rig')}
currency: ${quoted('X')}
battery: { chemistry: AGM, capacity: 100 Ah }
solar:
  - { name: ${quoted('roof')}, power: 120 W, cable: { length: 4 m, section: 6 mm2 } }
  - { name: ${quoted('mat')}, power: 60 W }
loads:
  - { name: ${quoted('fridge')}, kind: fridge, volume: 40 L, setpoint: 5 degC, rated: { energy: 0.4 kWh/day, ambient: 25 degC }, cable: { length: 5 m, section: 1.5 mm2 } }
  - { name: ${quoted('freezer')}, kind: fridge, volume: 30 L, setpoint: -15 degC, rated: { energy: 0.6 kWh/day, ambient: 25 degC } }
  - { name: ${quoted('lights')}, power: 10 W, when: sunset to 22:30 }
`;

/** … and so is every stop … */
export const HOSTILE_TRIP = `name: ${quoted('Trip')}
weather: clear
stops:
  - { name: ${quoted('stop A')}, at: [41.7, -8.8], from: 2026-07-03, nights: 3 }
  - { name: ${quoted('stop B')}, at: [43.6, -8.1], nights: 2, drive: 3 h }
`;

/** … and every part. */
export const HOSTILE_PARTS = `name: ${quoted('Parts')}
batteries:
  - { name: ${quoted('B')}, chemistry: AGM, capacity: 100 Ah, mass: 27 kg, price: 190 }
  - { name: ${quoted('C')}, chemistry: LFP, capacity: 100 Ah, mass: 11 kg, price: 400 }
panels:
  - { name: ${quoted('P')}, power: 100 W, mass: 6 kg, price: 90 }
limits: { batteries: 2, panels: 3 }
target: { unservedHours: 0, years: 90 % }
`;
