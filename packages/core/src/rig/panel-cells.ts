/** Above this a module without a datasheet may well be a large one [W]. Common practice, no source. */
export const LARGE_PANEL_W = 220;
/** Cells in series of a large module, by technology. Common practice, no source. */
export const LARGE_PANEL_CELLS = { mono: 60, poly: 60, 'thin film': 72 } as const;
/** Cells in series of a panel made for 12 V, by technology. Common practice, no source. */
export const PANEL_CELLS = { mono: 36, poly: 36, 'thin film': 38 } as const;
