/** Fills empty cells with the last that was measured, as long as its own rhythm lets it hold. */
export interface HeldCells {
  /** fills in place */
  fill(timeMs: number, cells: Float64Array): void;
}

/** @param holdMs how long each cell holds [ms]; 0 = not at all */
export function createHeldCells(holdMs: Float64Array): HeldCells {
  const last = new Float64Array(holdMs.length).fill(Number.NaN);
  const lastMs = new Float64Array(holdMs.length).fill(Number.NaN);
  return {
    fill(timeMs, cells) {
      for (let k = 0; k < holdMs.length; k++) {
        const cell = cells[k]!;
        if (!Number.isNaN(cell)) {
          last[k] = cell;
          lastMs[k] = timeMs;
        } else if (timeMs - lastMs[k]! <= holdMs[k]!) cells[k] = last[k]!;
      }
    },
  };
}
