// What the owners of the ten invented vehicles would type beside rig, trip and log: what their words say of the file itself.
export const GIVEN = {
  r01: ['--zone', 'UTC+01:00', '--solar-side', 'panel'],
  r02: ['--date-order', 'dmy'],
  r03: ['--zone', 'UTC+11:00'],
  r04: [],
  r05: ['--date-order', 'mdy', '--positive', 'discharging', '--solar-side', 'battery', '--zone', 'UTC+02:00'],
  r06: [],
  r07: ['--zone', 'UTC+02:00'],
  r08: ['--date-order', 'dmy', '--zone', 'UTC+02:00'],
  r09: ['--zone', 'UTC+01:00', '--column', 'solarPower=roof W'],
  r10: ['--date-order', 'dmy', '--zone', 'UTC+01:00'],
};

// Which of the truth's causes a finding of ours means.
export const CAUSE = {
  log_clock: 'clock',
  monitor_zero: 'monitor_zero',
  counter_setting: 'monitor_capacity',
  counter_set: 'monitor_restart',
  counter_drift: 'counter',
  panel_even: 'panel',
  panel_step: 'panel',
  panel_shade: 'shade',
  panel_clipped: 'panel',
  charge_ends_early: 'controller',
  charge_cold: 'cold',
  charge_below_freezing: 'cold',
  engine_weak: 'engine_charging',
  capacity_low: 'capacity',
  main_resistance: 'connection',
  draw_unlisted: 'unlisted_draw',
  fridge_high: 'fridge',
  fridge_climbing: 'fridge',
  fridge_without_pause: 'fridge',
  fridge_off: 'fridge',
  fridge_wire: 'fridge_wire',
  load_cut: 'load_disconnect',
};

// Logs that end the day before a fault begins are those of a healthy vehicle, but for what was wrong from the first day.
export const ENDS_BEFORE = {
  r04: { to: '2023-09-04', left: ['capacity'] },
  r05: { to: '2023-05-11', left: ['monitor_zero'] },
  r06: { to: '2023-05-02', left: ['fridge'] },
  r07: { to: '2023-09-11', left: ['monitor_capacity'] },
  r08: { to: '2023-07-18', left: [] },
  r09: { to: '2024-03-13', left: ['controller'] },
  r10: { to: '2023-08-31', left: ['clock'] },
};
