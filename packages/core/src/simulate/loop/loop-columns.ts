/** What a charger lane is; it says what `drive` means. */
export const CONVERTER = 0; // drive: most it can put out while it runs [W]
export const PWM = 1; // drive: above 0 when lit; current from the lane's I-V table
export const RELAY = 2; // drive: voltage of its source [V]; 0 with a share above 0 = the engine is off, but the batteries may be joined

/** What held the charge back, the stronger the higher: `CHARGE_LIMITS` names them. */
export const LIMIT_NONE = 0;
export const LIMIT_SOURCE = 1;
export const LIMIT_RATING = 2;
export const LIMIT_VOLTAGE = 3;
export const LIMIT_COLD = 4;
export const LIMIT_FULL = 5;

/** Columns hold `steps` values; lane columns hold lanes × steps, lane by lane. Never written by the loop. */
export interface LoopInput {
  readonly steps: number;
  readonly stepH: number;

  /** tables on a uniform grid of SoC 0..1, for the whole bank at 25 °C: see BatteryModel; below 0 the first straight line goes on */
  readonly points: number;
  readonly ocvV: Float64Array;
  readonly energyWh: Float64Array;
  readonly dischargeOhm: Float64Array;
  readonly chargeOhm: Float64Array;
  readonly chargeSteepOhm: Float64Array;
  /** what a whole step of charging adds to both, as the current falls meanwhile; whatever the temperature [Ω] */
  readonly chargeStepOhm: Float64Array;
  readonly chargeBendV: Float64Array;
  readonly chargeEfficiency: Float64Array;
  readonly capacityAh: number;
  /** the battery gives no current that would bring its terminals below this [V] */
  readonly lowestV: number;
  /** by how much the voltage bends down as the available well runs out, from this current up [V], [A] */
  readonly kneeV: number;
  readonly kneeA: number;
  /** two wells: charge that is still bound when the rated capacity is out at the rate that it is stated for [Ah] */
  readonly wellReserveAh: number;
  /** where SoC ends, at or below 0 */
  readonly emptySoc: number;
  readonly mainOhm: number;
  readonly startSoc: number;
  readonly maxDischargeA: number;
  /** what the cells' temperature makes of the resistances while discharging and while charging */
  readonly resistanceFactor: Float64Array;
  readonly chargeFactor: Float64Array;
  /** two wells: share of the available one, (0, 1], and rate constant k = k′/(c(1 − c)) [1/h] */
  readonly wellShare: Float64Array;
  readonly wellPerH: Float64Array;
  readonly chargeLimitA: Float64Array;
  /** the limit in that column is the cold's, not the rating's: 1 or 0 */
  readonly coldLimited: Float64Array;
  readonly selfDischargeA: Float64Array;

  /** loads go off at or below, on again at or above; −1 and 2 = not by SoC, 0 and 1e9 = not by voltage */
  readonly disconnectSoc: number;
  readonly disconnectV: number;
  readonly reconnectSoc: number;
  readonly reconnectV: number;

  /** loads on the bus, current u·(w + u²·(quad + u²·(cube + u²·fourth))) + amps with u = 1/V: cable loss as a series */
  readonly plainW: Float64Array;
  readonly plainQuad: Float64Array;
  readonly plainCube: Float64Array;
  readonly plainFourth: Float64Array;
  readonly plainA: Float64Array;
  /**
   * heavy loads, each a constant power behind its cable that is solved exactly: all that runs behind the inverter, and loads whose cable
   * may lose much of their power. Each has a cut-out, by the voltage at its own end; none runs where no current brings its power.
   */
  readonly heavies: number;
  readonly heavyOhm: Float64Array;
  /** below it off, back when the bus begins a step at or above the other; 0 and 0 = tried again at each step [V] */
  readonly heavyCutOutV: Float64Array;
  readonly heavyCutInV: Float64Array;
  /** lane columns: power while it runs [W], and the share of the step in which it does */
  readonly heavyW: Float64Array;
  readonly heavyRuns: Float64Array;
  /** drawn ahead of the disconnect: controllers' own draw, battery heater [W] */
  readonly unswitchedW: Float64Array;

  /** rooms of fridges: two for one with a second zone, which lie side by side */
  readonly fridges: number;
  readonly fridgeOhm: Float64Array;
  readonly fridgeCutOutV: Float64Array;
  readonly fridgeCutInV: Float64Array;
  readonly fridgeSetC: Float64Array;
  readonly fridgeStartC: Float64Array;
  /** half the swing of the thermostats, where steps are short enough to see them switch; 0 = a duty cycle holds the set point [K] */
  readonly fridgeSwingK: number;
  /** the lane whose compressor is the same, or −1 */
  readonly fridgePartner: Float64Array;
  /** contents as water [kg], and what else is inside [Wh/K] */
  readonly fridgeContentKg: Float64Array;
  readonly fridgeLinerWhPerK: Float64Array;
  /** lane columns, see `FridgeColumns`: heat that comes in, and electrical power and cooling while the compressor runs [W] */
  readonly fridgeLossWPerK: Float64Array;
  readonly fridgeFoodKgPerH: Float64Array;
  readonly fridgeInflowW: Float64Array;
  readonly fridgeCoolingW: Float64Array;
  readonly fridgeRunW: Float64Array;

  readonly chargers: number;
  readonly chargerKind: Float64Array;
  readonly chargerOhm: Float64Array;
  /** set points at 25 °C and their correction column */
  readonly absorptionV: Float64Array;
  readonly floatV: Float64Array;
  readonly holdH: Float64Array;
  readonly tailA: Float64Array;
  readonly restartBelowV: Float64Array;
  readonly compensationV: Float64Array;
  /** an earlier lane whose current counts towards this lane's limit too, or −1 */
  readonly sharesWith: Float64Array;
  /** a relay: what the vehicle takes at most while the engine runs; it joins at a bus or source of so many volts and parts below so many; what
   * it and the parked vehicle take meanwhile */
  readonly relayBackA: Float64Array;
  readonly relayJoinV: Float64Array;
  readonly relayPartV: Float64Array;
  readonly relayDrawA: Float64Array;
  /** lane columns: what it has to give and its limit, both while it runs, and the share of the step in which it does */
  readonly drive: Float64Array;
  readonly limitA: Float64Array;
  readonly chargerShare: Float64Array;
  /** PWM: ohms between array and controller, and array current at voltages pwmFromV + n·pwmStepV, step by step */
  readonly pwmOhm: Float64Array;
  /** PWM: what its switches drop [V] */
  readonly pwmDropV: number;
  readonly pwmFromV: number;
  readonly pwmStepV: number;
  readonly pwmPoints: number;
  /** one table a lane (empty for the other kinds), `pwmPoints` values a step, never rising with the voltage */
  readonly pwmA: readonly Float64Array[];
}

/**
 * What a run leaves, one row a step: means over the step unless said otherwise. Lane columns hold lanes × rows. Step i
 * is written to row i modulo `rows`, so a run of years can be followed through an output of one day, day by day.
 */
export interface LoopOutput {
  readonly rows: number;
  /** all of the columns below, one after the other */
  readonly all: Float64Array;
  /** at the end of the step */
  readonly soc: Float64Array;
  /** where loads meet: while they are connected in a step that is split */
  readonly busV: Float64Array;
  readonly batteryV: Float64Array;
  readonly batteryA: Float64Array;
  readonly batteryLossW: Float64Array;
  readonly mainLossW: Float64Array;
  /** share of the step with the loads connected */
  readonly onShare: Float64Array;
  /** share of the step in which the draws ahead of the disconnect were met */
  readonly alwaysShare: Float64Array;
  readonly limit: Float64Array;
  readonly fridgeW: Float64Array;
  readonly fridgeBusW: Float64Array;
  /** share of the step the fridge's own electronics were on and fed */
  readonly fridgeOnShare: Float64Array;
  /** at the end of the step */
  readonly fridgeC: Float64Array;
  /** lowest voltage at the fridge while its compressor ran; 1e9 when it did not */
  readonly fridgeV: Float64Array;
  /** 1 in a step in which its own cut-out acted, 2 when the bus alone was above the cut-out */
  readonly fridgeCut: Float64Array;
  /** of heavy loads: share of the step in which its cut-out and the disconnect let it run */
  readonly heavyOnShare: Float64Array;
  /** 1 in a step in which its cut-out acted, 2 when the bus alone was above it, or its cable brought its power at no current */
  readonly heavyCut: Float64Array;
  /** lane columns: at the charger's terminals, and what reaches the bus */
  readonly chargerW: Float64Array;
  readonly chargerBusW: Float64Array;
  /** PWM lanes: power at the array's terminals, and what it had to give at that voltage */
  readonly arrayW: Float64Array;
  readonly arrayAvailableW: Float64Array;
}

/** Columns in the order in which they lie in `LoopOutput.all`; lane columns after those of the whole. */
export const OUT_SOC = 0;
export const OUT_BUS_V = 1;
export const OUT_BATTERY_V = 2;
export const OUT_BATTERY_A = 3;
export const OUT_BATTERY_LOSS_W = 4;
export const OUT_MAIN_LOSS_W = 5;
export const OUT_ON_SHARE = 6;
export const OUT_ALWAYS_SHARE = 7;
export const OUT_LIMIT = 8;
export const OUT_WHOLE = 9;
/** lane columns of the fridges, in their order */
export const OUT_FRIDGE_W = 0;
export const OUT_FRIDGE_BUS_W = 1;
export const OUT_FRIDGE_ON_SHARE = 2;
export const OUT_FRIDGE_C = 3;
export const OUT_FRIDGE_V = 4;
export const OUT_FRIDGE_CUT = 5;
export const OUT_FRIDGE = 6;
/** of the heavy loads */
export const OUT_HEAVY_ON_SHARE = 0;
export const OUT_HEAVY_CUT = 1;
export const OUT_HEAVY = 2;
/** and of the chargers */
export const OUT_CHARGER_W = 0;
export const OUT_CHARGER_BUS_W = 1;
export const OUT_ARRAY_W = 2;
export const OUT_ARRAY_AVAILABLE_W = 3;
export const OUT_CHARGER = 4;

/** Columns for what the loop finds, in one piece of memory: `rows` steps, with a column for each fridge, heavy load and charger. */
export function loopOutput(
  rows: number,
  { fridges, heavies, chargers }: Pick<LoopInput, 'fridges' | 'heavies' | 'chargers'>,
): LoopOutput {
  const all = new Float64Array(
    rows * (OUT_WHOLE + OUT_FRIDGE * fridges + OUT_HEAVY * heavies + OUT_CHARGER * chargers),
  );
  let at = 0;
  const column = (lanes = 1) => {
    const from = at;
    at += lanes * rows;
    return all.subarray(from, at);
  };
  return {
    rows,
    all,
    soc: column(),
    busV: column(),
    batteryV: column(),
    batteryA: column(),
    batteryLossW: column(),
    mainLossW: column(),
    onShare: column(),
    alwaysShare: column(),
    limit: column(),
    fridgeW: column(fridges),
    fridgeBusW: column(fridges),
    fridgeOnShare: column(fridges),
    fridgeC: column(fridges),
    fridgeV: column(fridges),
    fridgeCut: column(fridges),
    heavyOnShare: column(heavies),
    heavyCut: column(heavies),
    chargerW: column(chargers),
    chargerBusW: column(chargers),
    arrayW: column(chargers),
    arrayAvailableW: column(chargers),
  };
}
