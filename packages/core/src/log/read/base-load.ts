/** Width and number of the bins of a night's draw: 0 to 20 A in 20 mA. */
const BIN_A = 0.02;
const BINS = 1000;
/** The quietest share of a night's rows, small enough to lie within a fridge's pauses … */
const QUIET_SHARE = 0.05;
/** … and how far from their middle a row still shows the same draw, noise granted [A]. */
const QUIET_BAND_A = 0.15;
const MAX_ITERATIONS = 4;
const MIN_ROWS = 12;

/** The draw of one night, gathered without keeping its rows. */
export function createNightDraw() {
  const bins = new Uint32Array(BINS);
  let rows = 0;
  let [ampH, wattH, hours] = [0, 0, 0];
  /** the draw that so many rows stay below, of those in bin `first` and above */
  const reached = (wanted: number, first: number): number => {
    let below = 0;
    for (let k = first; k < BINS; k++) {
      const here = bins[k]!;
      if (here > 0 && below + here >= wanted) return (k + (wanted - below) / here) * BIN_A;
      below += here;
    }
    return BINS * BIN_A;
  };
  /** median of the rows between two draws */
  const middleOf = (fromA: number, toA: number): number => {
    const first = Math.max(0, Math.round(fromA / BIN_A));
    const end = Math.min(BINS, Math.round(toA / BIN_A));
    let within = 0;
    for (let k = first; k < end; k++) within += bins[k]!;
    return reached(within / 2, first);
  };
  return {
    add(drawA: number, drawW: number, forH: number): void {
      bins[Math.min(BINS - 1, Math.max(0, Math.floor(drawA / BIN_A)))]!++;
      rows++;
      ampH += drawA * forH;
      if (!Number.isNaN(drawW)) wattH += drawW * forH;
      hours += forH;
    },
    /** median of the rows that are as quiet as the quietest [A]: what is drawn always; undefined with too few rows to say */
    alwaysA(): number | undefined {
      if (rows < MIN_ROWS) return undefined;
      // from the quietest rows to the middle of the cluster that they belong to
      let [fromA, toA] = [0, reached(QUIET_SHARE * rows, 0) + QUIET_BAND_A];
      for (let turn = 0; turn < MAX_ITERATIONS; turn++) {
        const middleA = middleOf(fromA, toA);
        [fromA, toA] = [middleA - QUIET_BAND_A, middleA + QUIET_BAND_A];
      }
      return middleOf(fromA, toA);
    },
    meanW: () => (hours > 0 ? wattH / hours : undefined),
    meanA: () => (hours > 0 ? ampH / hours : undefined),
    energyWh: () => wattH,
    hours: () => hours,
    clear(): void {
      bins.fill(0);
      rows = 0;
      ampH = wattH = hours = 0;
    },
  };
}
