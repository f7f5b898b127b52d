/** An energy, or a charge that the battery's nominal voltage turns into one. */
export type EnergyRead =
  | { readonly kind: 'energy'; readonly wh: number }
  | { readonly kind: 'charge'; readonly ah: number };

/** What a display showed over a span of days. */
export interface TotalRead {
  /** local civil date, ISO, and how many days from there */
  readonly from: string;
  readonly days: number;
  /** that the solar controllers gave, and that all loads took: in all [Wh or Ah] */
  readonly solar?: EnergyRead;
  readonly used?: EnergyRead;
  /** days on which the battery was full, and times that it was cut off as empty */
  readonly full?: number;
  readonly empty?: number;
  /** lowest state of charge, 0..1 */
  readonly lowest?: number;
  /** how far energies may be off, 9 times in 10, as a share */
  readonly trust: number;
}

/** A day's row of a display. */
export interface DayRead {
  readonly date: string;
  readonly solar?: EnergyRead;
  readonly lowest?: number;
  readonly highest?: number;
}

/** A single look at a display. */
export interface MomentRead {
  /** local civil date, ISO, and hour, 0..24 */
  readonly date: string;
  readonly hour: number;
  readonly soc?: number;
  readonly voltageV?: number;
  /** with the voltage: positive while charging */
  readonly currentA?: number;
  /** inside the first fridge [°C] */
  readonly fridgeC?: number;
}

/** Few readings of a vehicle, in place of a log. */
export interface Readings {
  readonly totals: readonly TotalRead[];
  readonly days: readonly DayRead[];
  readonly moments: readonly MomentRead[];
}
