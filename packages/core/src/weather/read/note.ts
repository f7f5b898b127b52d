/** Something the user should know about the weather that was used: a repeat, a filled gap, a shift against the sun. */
export interface WeatherNote {
  readonly code: string;
  readonly text: string;
}
