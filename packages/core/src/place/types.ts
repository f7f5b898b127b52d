import type { MonthlyClimate } from '../rig/index.js';

/** Where: what sun, sky and clock need. */
export interface Place {
  readonly name: string;
  readonly latDeg: number;
  readonly lonDeg: number;
  readonly elevationM: number;
  /** IANA zone */
  readonly zone: string;
}

/** A row of the table of places, or what a rig or trip gives in its stead. */
export interface ClimatePlace extends Place {
  readonly country: string;
  readonly climate: MonthlyClimate;
  readonly source: string;
}
