import { existsSync, readFileSync } from 'node:fs';
import { compareLog, readLogTable, readRig } from '@stayput/core';
import { expect, test } from 'vitest';

const FILE = new URL('../../../../shared/data/pv/cocoa-florida-2019-hourly.csv', import.meta.url);
const AT = { latDeg: 28.405, lonDeg: -80.7709 };

/**
 * A real 6 kW rack as if it were a vehicle's: DC power and air as measured, light on the horizontal from a satellite.
 * Source: PV Data Acquisition public data set, system 1403, and National Solar Radiation Data Base, National Renewable Energy
 * Laboratory / US Department of Energy Open Energy Data Initiative, doi:10.25984/1846021, CC BY 4.0. From January to March one of
 * its two inverters was off, and power about 45 % of normal. The battery's voltage is ours: never near full.
 */
function share(fromMonth: string, toMonth: string) {
  const [head, ...lines] = readFileSync(FILE, 'utf8').trim().split('\n');
  const names = head!.split(',');
  const at = (name: string) => names.indexOf(name);
  const rows = lines
    .map((line) => line.split(','))
    .filter(([time]) => time!.slice(5, 7) >= fromMonth && time!.slice(5, 7) <= toMonth)
    .map((cells) => {
      // values are centred on their stamp; a log's row holds from its stamp on
      const begins = new Date(Date.parse(`${cells[0]}Z`) - 1_800_000).toISOString().slice(0, 16);
      return [begins, '52.0', ...['dc_power_w', 'ghi_sat_w_m2', 't_air_c'].map((name) => cells[at(name)]!)].join(',');
    });
  const text = ['time,Battery voltage (V),Solar power (W),Irradiance (W/m2),Ambient temperature (C)', ...rows].join(
    '\n',
  );
  const { rig } = readRig(
    `battery: { chemistry: LFP, capacity: 1000 Ah, series: 4 }
solar: [{ power: 200 W, count: 30, tilt: 35 deg, azimuth: 180 deg, mount: rack, controller: { kind: MPPT, current: 200 A } }]
loads: [{ name: lamp, power: 1 W }]`,
  );
  return compareLog(rig, readLogTable(text, { zone: 'UTC-05:00', at: AT }), { where: { at: AT } });
}

test.skipIf(!existsSync(FILE))(
  'a real array with half of it off in winter is found weak, evenly over the day (needs ../shared/data; skipped without)',
  () => {
    const sound = share('04', '12');
    const whole = sound.panel!;
    const half = share('01', '02');
    expect(sound.findings.filter(({ path }) => path.startsWith('solar'))).toEqual([]);
    expect(whole.low).toBeLessThan(1);
    expect(whole.high).toBeGreaterThan(1);
    const ratio = half.panel!.share / whole.share;
    expect(ratio).toBeGreaterThan(0.4);
    expect(ratio).toBeLessThan(0.5);
    expect(half.findings.map(({ code }) => code)).toContain('panel_even');
    expect(half.light).toBe('irradiance');
  },
);

// By the set's own irradiance sensor in the panels' plane, a column not used above, power over light of 6 kW is 0.40 on the days
// to 25 March 2019, 0.49 on the 26th, 0.92 on the 27th and about 0.8 after.
test.skipIf(!existsSync(FILE))(
  'over the whole year the day is found on which its other half is on again (needs ../shared/data; skipped without)',
  () => {
    const solar = share('01', '12').findings.filter(({ path }) => path.startsWith('solar'));
    expect(solar.map(({ code }) => code)).toEqual(['panel_step']);
    expect(Math.abs(Date.parse(solar[0]!.until!) - Date.UTC(2019, 2, 27))).toBeLessThanOrEqual(2 * 86_400_000);
    // half of its inverters, or 45 % of its power as measured
    expect(Math.abs(Number(solar[0]!.args.keeps) - 0.45)).toBeLessThan(0.1);
  },
);
