/** Width and number of the bins of a night's draw: 0 to 20 A in 20 mA. */
const BIN_A = 0.02;
const BINS = 1000;
/** The quietest share of a night's rows, small enough to lie within a fridge's pauses … */
const QUIET_SHARE = 0.05;
/** … and how far above it a row still shows the same draw, noise granted [A]. */
const QUIET_BAND_A = 0.15;
const LEAST_ROWS = 12;

/** The draw of one night, gathered without keeping its rows. */
export function createNightDraw() {
  const bins = new Uint32Array(BINS);
  let rows = 0;
  let [ampH, wattH, hours] = [0, 0, 0];
  /** the draw that so many rows stay below */
  const reached = (wanted: number): number => {
    let below = 0;
    for (let k = 0; k < BINS; k++) {
      const here = bins[k]!;
      if (here > 0 && below + here >= wanted) return (k + (wanted - below) / here) * BIN_A;
      below += here;
    }
    return BINS * BIN_A;
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
      if (rows < LEAST_ROWS) return undefined;
      const quietA = reached(QUIET_SHARE * rows);
      const end = Math.min(BINS, Math.ceil((quietA + QUIET_BAND_A) / BIN_A));
      let within = 0;
      for (let k = 0; k < end; k++) within += bins[k]!;
      return reached(within / 2);
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
