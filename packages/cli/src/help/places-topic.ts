import { allPlaces } from '@stayput/core';
import type { Block } from './blocks.js';

export function placesTopic(): Block[] {
  const byCountry = new Map<string, string[]>();
  for (const { name, country } of allPlaces()) byCountry.set(country, [...(byCountry.get(country) ?? []), name]);
  const countries = [...byCountry].sort(([a], [b]) => a.localeCompare(b, 'en'));
  return [
    {
      text: `The ${allPlaces().length} places of the built-in table, whose monthly means each have a source. --place Porto takes one by name; case and accents do not matter, and "Name, Country" tells two apart. Anywhere else has a position: --at 41.7,-8.8 takes its climate from the nearest of these, and says how far they are.`,
    },
    { entries: countries.map(([country, names]) => [country, names.sort().join(', ')]) },
  ];
}
