// What the monitor of an invented vehicle writes: zero, gain, dead band, a counter with its own setting; rows of many kinds.
const pad = (value) => String(value).padStart(2, '0');

/** The monitor's view of a vehicle's minutes. */
export function watched(random, truth, { out, met }) {
  const { monitor, battery, controller, fault, days } = truth;
  const n = days * 1440;
  const amps = new Float64Array(n);
  const soc = new Float64Array(n);
  let counted = met.soc[0] + monitor.startError;
  let fullMin = 0;
  for (let i = 0; i < n; i++) {
    const day = Math.floor(i / 1440);
    let seen = out.amps[i] * monitor.gain + monitor.zeroA + 0.01 * random.normal();
    if (fault?.kind === 'zero' && day >= (fault.day ?? 0)) seen += fault.amps;
    if (Math.abs(seen) < monitor.deadA) seen = 0;
    amps[i] = seen;
    counted += (seen * (seen > 0 ? monitor.efficiency : 1)) / 60 / monitor.settingAh;
    counted = Math.min(1, Math.max(0, counted));
    const isFull = out.volts[i] > controller.toldV - monitor.fullWithinV && seen >= 0 && seen < 0.04 * battery.ratedAh;
    fullMin = isFull ? fullMin + 1 : 0;
    if (fullMin >= 3 || (fault?.kind === 'reset' && i === fault.day * 1440 + 600)) counted = 1;
    soc[i] = counted;
  }
  return { amps, soc };
}

/** Rows of a log as its owner exports it. */
export function written(truth, out, seen, sky) {
  const { form, days, startMs, zoneH } = truth;
  const { stepMin } = form;
  const clockMin = truth.fault?.kind === 'clock' ? truth.fault.minutes : 0;
  const columns = [
    { heads: form.heads.volts, of: out.volts, digits: 2, times: form.milli ? 1000 : 1 },
    { heads: form.heads.amps, of: seen.amps, digits: form.milli ? 0 : 2, times: (form.milli ? 1000 : 1) * form.sign },
    form.hasSoc && { heads: form.heads.soc, of: seen.soc, digits: 1, times: 100 },
    form.solar === 'battery' && { heads: form.heads.sun, of: out.sunW, digits: 0, times: 1 },
    form.solar === 'panel' && { heads: form.heads.sun, of: out.panelW, digits: 0, times: 1 },
    form.hasCabin && { heads: 'cabin temperature [C]', of: out.cabinC, digits: 1, times: 1 },
    form.hasBattery && { heads: 'battery temperature [C]', of: out.battC, digits: 1, times: 1 },
    form.hasAir && { heads: 'outside temperature [C]', of: sky.air, digits: 1, times: 1 },
    form.hasLowest && { heads: 'lowest V', of: out.volts, digits: 2, times: 1, least: true },
  ].filter(Boolean);
  const text = (value, digits) => (form.comma ? value.toFixed(digits).replace('.', ',') : value.toFixed(digits));
  const stamp = (ms) => {
    const t = new Date(ms + zoneH * 3_600_000 + clockMin * 60_000);
    const date = [t.getUTCFullYear(), pad(t.getUTCMonth() + 1), pad(t.getUTCDate())];
    const time = `${pad(t.getUTCHours())}:${pad(t.getUTCMinutes())}`;
    return form.dates === 'dmy' ? `${date[2]}.${date[1]}.${date[0]} ${time}` : `${date.join('-')} ${time}`;
  };
  const rows = [['time', ...columns.map(({ heads }) => heads)].join(form.delimiter)];
  const n = days * 1440;
  if (form.isOnChange) {
    let [lastA, lastV, lastI] = [Number.NaN, Number.NaN, -1e9];
    for (let i = 0; i < n; i++) {
      const isChange = Math.abs(seen.amps[i] - lastA) > 0.3 || Math.abs(out.volts[i] - lastV) > 0.03 || i - lastI >= 30;
      if (!isChange || i - lastI < 2) continue;
      [lastA, lastV, lastI] = [seen.amps[i], out.volts[i], i];
      rows.push(
        [stamp(startMs + i * 60_000), ...columns.map(({ of, digits, times }) => text(of[i] * times, digits))].join(
          form.delimiter,
        ),
      );
    }
    return `${rows.join('\n')}\n`;
  }
  for (let i = 0; i + stepMin <= n; i += stepMin) {
    if (form.gap && i >= form.gap.from && i < form.gap.to) continue;
    const cells = columns.map(({ of, digits, times, least }) => {
      let value = 0;
      if (least) value = of.subarray(i, i + stepMin).reduce((low, one) => Math.min(low, one), Infinity);
      else if (form.isMoment) value = of[form.stamps === 'end' ? i + stepMin - 1 : i];
      else for (let k = i; k < i + stepMin; k++) value += of[k] / stepMin;
      return text(value * times, digits);
    });
    const ms = startMs + (form.stamps === 'end' ? i + stepMin : i) * 60_000;
    rows.push([stamp(ms), ...cells].join(form.delimiter));
  }
  return `${rows.join('\n')}\n`;
}
