/** Three significant digits with the unit. */
export const amps = (currentA: number) => `${Number(currentA.toPrecision(3))} A`;

export const mm2 = (sectionMm2: number) => `${Number(sectionMm2.toPrecision(3))} mm²`;

/** A section as its owner gave it. */
export function sectionText({ sectionMm2, gaugeAwg }: { sectionMm2: number; gaugeAwg?: string | undefined }): string {
  return gaugeAwg === undefined ? mm2(sectionMm2) : `${gaugeAwg} AWG (${mm2(sectionMm2)})`;
}

export const wholePercent = (share: number) => `${Math.round(100 * share)} %`;

/** Hours with two digits, from two days on as days. */
export const hoursOrDays = (hours: number) =>
  hours >= 48 ? `${(hours / 24).toFixed(1)} days` : `${Number(hours.toPrecision(2))} h`;

/** "once", "twice", "3 times" */
export const times = (count: number) => (count === 1 ? 'once' : count === 2 ? 'twice' : `${count} times`);
