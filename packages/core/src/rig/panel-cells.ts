/** Cells in series of a panel made for 12 V, by technology. Common practice, no source. */
export const PANEL_CELLS = { mono: 36, poly: 36, 'thin film': 38 } as const;
