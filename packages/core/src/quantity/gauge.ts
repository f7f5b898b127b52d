/**
 * Section of a solid round conductor of an American wire gauge [mm²]:  d = 0.127 mm · 92^((36 − n) / 39).
 * Source: ASTM B258, whose definition of the diameters this is.
 * @param gauge "10", or "1/0" to "4/0" for the sizes above 0
 * @returns area [mm²], undefined if there is no such gauge (40 to 4/0)
 */
export function awgSectionMm2(gauge: string): number | undefined {
  const match = /^(?:([1-4])\/0|(0{1,4})|([1-9]|[1-3]\d|40))$/.exec(gauge);
  if (!match) return undefined;
  const n = match[1] ? 1 - Number(match[1]) : match[2] ? 1 - match[2].length : Number(match[3]);
  const diameterMm = 0.127 * 92 ** ((36 - n) / 39);
  return (Math.PI / 4) * diameterMm ** 2;
}

/** The gauge in "10 AWG", "AWG 1/0" or "2/0 awg", as "10", "1/0", "2/0"; undefined if the text is not an AWG size. */
export function readGauge(text: string): string | undefined {
  const match = /^(?:awg\s*)?(\d{1,4}(?:\/0)?)(?:\s*awg)?$/i.exec(text.trim());
  const gauge = /awg/i.test(text) ? match?.[1] : undefined;
  return gauge !== undefined && awgSectionMm2(gauge) !== undefined ? gauge : undefined;
}
