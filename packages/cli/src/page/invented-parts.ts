/** A parts list to begin with: every name, mass and price is invented, of the usual size. */
export const INVENTED_PARTS = `# What could be bought: an invented list. Put in its place what you are offered.
name: Shopping list
batteries:
  - { name: LFP 50, chemistry: LFP, capacity: 50 Ah, mass: 6 kg, price: 230 }
  - { name: LFP 100, chemistry: LFP, capacity: 100 Ah, mass: 11.5 kg, price: 410 }
  - { name: AGM 100, chemistry: AGM, capacity: 100 Ah, mass: 29 kg, price: 180 }
panels:
  - { name: flat 100, power: 100 W, mount: bonded, mass: 2.1 kg, price: 150, area: 0.55 m2 }
  - { name: framed 175, power: 175 W, mount: gap, mass: 10.8 kg, price: 125, area: 0.92 m2 }
limits: { batteries: 3, panels: 3, mass: 60 kg, price: 1500 }
target: { unservedHours: 0 h, years: 90 % }
`;
