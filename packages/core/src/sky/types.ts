/** The regular grid that every column stands on. Sample i is the mean over [startMs + i·stepH, + stepH). */
export interface Grid {
  readonly startMs: number;
  /** one of 1/60 … 1 hour, a whole number of steps to the hour */
  readonly stepH: number;
  readonly steps: number;
}

/** The sun at the middle of each step. */
export interface SunColumns {
  /** cosine of the true (unrefracted) zenith angle; negative below the horizon */
  readonly cosZenith: Float64Array;
  /** from north, clockwise [deg] */
  readonly azimuthDeg: Float64Array;
  /** irradiance outside the atmosphere, on a plane facing the sun [W/m²] */
  readonly extraNormalWm2: Float64Array;
}

/** Weather on the grid. Whatever made it, all columns are there. */
export interface WeatherColumns {
  readonly ghiWm2: Float64Array;
  readonly dniWm2: Float64Array;
  readonly dhiWm2: Float64Array;
  readonly ambientC: Float64Array;
  /** at 10 m [m/s] */
  readonly windMs: Float64Array;
}
