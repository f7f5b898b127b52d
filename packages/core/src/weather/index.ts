export { type WeatherOnGrid, type WeatherSite, weatherOnGrid } from './grid/weather-grid.js';
export { clearWeather } from './made/clear-weather.js';
export { type ClearnessCurve, clearnessAt, clearnessCurve } from './made/clearness-distribution.js';
export { type ClimateDraw, climateWeather } from './made/climate-weather.js';
export { DULL_ONE_IN, dullClearness, dullWeather } from './made/dull-weather.js';
export { COLUMN_OPTIONS as WEATHER_COLUMN_OPTIONS } from './read/csv-layout.js';
export type { WeatherNote } from './read/note.js';
export { readWeatherFile, type WeatherFileOptions } from './read/weather-file.js';
export type { WeatherSeries } from './read/weather-series.js';
