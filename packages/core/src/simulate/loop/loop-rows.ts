// The loop reads and writes few, long arrays: an array costs it more than an index into one. Below is what lies where. This
// file imports nothing, so that these numbers are put into the code that reads them: as variables they cost the loop a fifth.

/** Which draws are connected: all, only those ahead of the disconnect, none (the battery is empty). */
export const ALL_ON = 2;
export const LOADS_OFF = 1;
export const ALL_OFF = 0;

/** A row of `LoopState.steps`: the loads on the bus, then each fridge, each heavy load and each charger. */
export const LOAD_W = 0;
export const LOAD_QUAD = 1;
export const LOAD_CUBE = 2;
export const LOAD_FOURTH = 3;
export const LOAD_A = 4;
export const UNSWITCHED_W = 5;
export const LOAD_WIDTH = 6;
/** of a fridge's room: where its inside tends to, how far below that with the compressor never off, and what is left of a
 * difference after a whole step, all three while its contents are as at its set point */
export const IDLE_C = 0;
export const COOL_K = 1;
export const KEEP = 2;
export const RUN_W = 3;
export const FRIDGE_STEP_WIDTH = 4;
/** of a heavy load: its power while it runs, and the share of the step in which it does */
export const HEAVY_W = 0;
export const HEAVY_SHARE = 1;
export const HEAVY_STEP_WIDTH = 2;
export const DRIVE = 0;
export const LIMIT_A = 1;
export const SHARE = 2;
export const COMPENSATION_V = 3;
/** Numbers in a step's row for each charger. */
export const CHARGER_STEP_WIDTH = 4;

/** A row of `LoopState.battery`. */
export const OHM_FACTOR = 0;
export const CHARGE_FACTOR = 1;
export const WELL_SHARE = 2;
export const WELL_PER_H = 3;
/** of a whole step: share of a difference between the wells that evens out, and what an ampere leaves in the available one [h] */
export const WELL_EVENS = 4;
export const WELL_GAIN_H = 5;
export const CHARGE_LIMIT_A = 6;
export const COLD = 7;
export const LEAK_A = 8;
/** Numbers in a step's row for the battery. */
export const BATTERY_STEP_WIDTH = 9;

/** A row of `LoopState.table`: the battery's tables over the state of charge, side by side. */
export const OCV_V = 0;
export const ENERGY_WH = 1;
export const OUT_OHM = 2;
export const IN_OHM = 3;
export const IN_STEEP_OHM = 4;
export const IN_STEP_OHM = 5;
export const IN_BEND_V = 6;
export const EFFICIENCY = 7;
export const TABLE_WIDTH = 8;

/** `LoopState.now`: how full the available well is, 0..1; level; of the last phase, into the battery [A] and on the bus [V]. */
export const NOW_SOC = 0;
export const NOW_HEAD = 1;
export const NOW_LEVEL = 2;
export const NOW_AMPS = 3;
export const NOW_BUS_V = 4;
/** within a phase: what the chargers give together [A] and how that falls with the voltage [A/V], */
export const NOW_SUPPLY_A = 5;
export const NOW_FALL = 6;
/** where one of them begins to hold its voltage: the highest such voltage below the bus and the lowest above it [V], and by how much
 * more [A] and more steeply [A/V] they give along the line on which it does */
export const NOW_BELOW_V = 11;
export const NOW_BELOW_A = 12;
export const NOW_BELOW_FALL = 13;
export const NOW_ABOVE_V = 14;
export const NOW_ABOVE_A = 15;
export const NOW_ABOVE_FALL = 16;
/** how much of what they give the battery lets them, and the phase's share of the step */
export const NOW_SCALE = 7;
export const NOW_PART = 8;
/** how full the emptier well was when it could give no more: from there it must recover before the loads return */
export const NOW_DEPLETED_SOC = 9;
/** for how long the bus has stood at the reconnect while the loads were off [h] */
export const NOW_READY_H = 10;
/** whether a charger held its voltage in the last phase, 0 or 1 */
export const NOW_HELD = 17;
export const NOW_WIDTH = 18;

/** A row of `LoopState.fridges`: what a room is, */
export const FRIDGE_OHM = 0;
export const CUT_OUT_V = 1;
export const CUT_IN_V = 2;
export const SET_C = 3;
/** inside between these its contents stay as at its set point, frozen, freezing or fresh; never where its thermostat leads out of it */
export const HOME_LOW_C = 4;
export const HOME_HIGH_C = 5;
/** whether contents at its set point are frozen, freezing or fresh: 0, 1, 2 */
export const HOME = 6;
/** where the row of the room starts that is on the same compressor, or −1 */
export const PARTNER_ROOM = 7;
/** how it stands: whether its own cut-out lets it run, and its inside; */
export const FRIDGE_ON = 8;
export const INSIDE_C = 9;
/** in this phase: inside at its end, and its duty; */
export const END_C = 10;
export const DUTY = 11;
/** the current in its cable while it runs, and the voltage it then sees */
export const RUN_A = 12;
export const TERMINAL_V = 13;
/** inside temperature at which its thermostat switches next: on above it, or off at it */
export const AIM_C = 14;
export const FRIDGE_WIDTH = 15;

/** A row of `LoopState.heavies`: what it is, whether its cut-out lets it run, and its current while it does. */
export const HEAVY_OHM = 0;
export const HEAVY_OUT_V = 1;
export const HEAVY_IN_V = 2;
export const HEAVY_ON = 3;
export const HEAVY_A = 4;
export const HEAVY_WIDTH = 5;

/** A row of `LoopState.chargers`: what it is, */
export const KIND = 0;
export const CHARGER_OHM = 1;
export const ABSORPTION_V = 2;
export const FLOAT_V = 3;
export const ABSORPTION_H = 4;
export const TAIL_A = 5;
export const RESTART_BELOW_V = 6;
/** where the row of the charger starts that shares its limit, or −1 */
export const PARTNER = 7;
export const PWM_OHM = 8;
/** of a relay: most that flows back, where one that senses voltage joins and parts, and what it then feeds with the engine off */
export const BACK_A = 16;
export const JOIN_V = 17;
export const PART_V = 18;
export const DRAW_A = 19;
/** whether it joins the batteries */
export const JOINED = 20;
/** how it stands: its stage, and the hours at its voltage in that stage; */
export const STAGE = 9;
export const STAGE_H = 10;
/** in this step: whether it has something to give (2 = a relay that only takes), and the voltage it makes for; */
export const LIVE = 11;
export const SET_V = 12;
/** in this phase: its limit, its current while it runs, and whether it holds its voltage */
export const MAX_A = 13;
export const GIVEN_A = 14;
export const HELD = 15;
export const CHARGER_WIDTH = 21;
