// Sun, cloud and air of invented days, minute by minute, at a camp and at a station some kilometres away.
// Sub-models of its own: a clear sky of the form A exp(-B / sin h) with diffuse as a share of the beam (ASHRAE's form, constants
// jittered), cloud as a two-state telegraph under broken skies and a slow optical depth under closed ones.
const RAD = Math.PI / 180;

/** Sine of the sun's elevation and its azimuth (0 = north, clockwise) at a moment UTC, after the usual almanac series. */
function sunAt(ms, latDeg, lonDeg) {
  const days = ms / 86_400_000 + 2440587.5 - 2451545;
  const mean = (357.529 + 0.98560028 * days) * RAD;
  const longitude = (280.459 + 0.98564736 * days + 1.915 * Math.sin(mean) + 0.02 * Math.sin(2 * mean)) * RAD;
  const tilt = (23.439 - 0.00000036 * days) * RAD;
  const ascension = Math.atan2(Math.cos(tilt) * Math.sin(longitude), Math.cos(longitude));
  const declination = Math.asin(Math.sin(tilt) * Math.sin(longitude));
  const sidereal = (280.46061837 + 360.98564736629 * days + lonDeg) * RAD;
  const hour = sidereal - ascension;
  const lat = latDeg * RAD;
  const sin = Math.sin(lat) * Math.sin(declination) + Math.cos(lat) * Math.cos(declination) * Math.cos(hour);
  const azimuth =
    Math.atan2(-Math.sin(hour), Math.tan(declination) * Math.cos(lat) - Math.sin(lat) * Math.cos(hour)) / RAD;
  return { sin, azimuth: (azimuth + 360) % 360 };
}

/** One kind of sky per day, which likes to stay. */
function skiesOf(random, days, dullness, spell) {
  const kinds = ['clear', 'broken', 'closed'];
  const weights = [1.2 - dullness, 0.8, dullness];
  const draw = () => {
    let at = random.uniform() * weights.reduce((sum, one) => sum + one, 0);
    return (
      kinds.find((_, k) => {
        at -= weights[k];
        return at < 0;
      }) ?? 'closed'
    );
  };
  const skies = [];
  for (let day = 0; day < days; day++) skies.push(day > 0 && random.chance(0.45) ? skies[day - 1] : draw());
  if (spell) for (let day = spell.from; day < spell.to; day++) skies[day] = 'closed';
  return skies;
}

/** Share of the beam that comes through and thickness of what is between, minute by minute, under skies that both sites share. */
function cloudOf(random, skies, slow) {
  const beam = new Float64Array(skies.length * 1440);
  let isOpen = true;
  let left = 0;
  for (let i = 0; i < beam.length; i++) {
    const kind = skies[Math.floor(i / 1440)];
    if (left <= 0) {
      const cover = Math.min(0.9, Math.max(0.1, slow.cover[i]));
      isOpen = !isOpen;
      left = random.exponential(isOpen ? 14 * (1 - cover) : 14 * cover) + 1;
    }
    left--;
    beam[i] = kind === 'clear' ? 1 : kind === 'closed' ? 0.02 : isOpen ? 1 : 0.08;
  }
  return beam;
}

/** @returns columns by the minute: sun at the camp, air, wind; and the station's hourly table as text */
export function skyOf(random, { startMs, days, latDeg, lonDeg, climate, spell, heat }) {
  const n = days * 1440;
  const skies = skiesOf(random, days, climate.dullness, spell);
  const slow = { cover: new Float64Array(n), depth: new Float64Array(n) };
  let [cover, depth] = [random.range(0.3, 0.6), random.normal() * 0.3];
  for (let i = 0; i < n; i++) {
    cover += (0.5 - cover) / 300 + 0.012 * random.normal();
    depth += -depth / 240 + 0.035 * random.normal();
    slow.cover[i] = cover;
    slow.depth[i] = depth;
  }
  const camp = { beam: cloudOf(random.fork(), skies, slow) };
  const station = { beam: cloudOf(random.fork(), skies, slow) };
  const [a, b, c] = [random.about(1150, 0.02), random.about(climate.haze, 0.1), random.range(0.09, 0.14)];
  const columns = ['dni', 'dhi', 'ghi', 'air', 'wind', 'sin', 'azimuth'];
  const sky = Object.fromEntries(columns.map((name) => [name, new Float64Array(n)]));
  const at = { ghi: new Float64Array(n), dhi: new Float64Array(n) };
  let [front, own, gust] = [0, 0, 2.5];
  const lightOf = (sin, kind, share, thickness) => {
    const clearBeam = a * Math.exp(-b / sin);
    const clearDiffuse = c * clearBeam * (1 + 0.4 * b);
    if (kind === 'closed') {
      const through = Math.min(0.7, 0.28 * Math.exp(thickness));
      const all = through * (clearBeam * sin + clearDiffuse);
      const dni = through > 0.5 ? (0.15 * all) / Math.max(0.1, sin) : 0;
      return { dni, dhi: all - dni * sin };
    }
    if (kind === 'broken') return { dni: clearBeam * share, dhi: clearDiffuse * 1.5 + 0.1 * clearBeam * sin };
    return { dni: clearBeam, dhi: clearDiffuse };
  };
  const dayGain = Array.from({ length: days }, () => 1 + 0.02 * random.normal());
  const instrument = 1 + 0.012 * random.normal();
  for (let i = 0; i < n; i++) {
    const day = Math.floor(i / 1440);
    const ms = startMs + i * 60_000 + 30_000;
    const { sin, azimuth } = sunAt(ms, latDeg, lonDeg);
    sky.sin[i] = sin;
    sky.azimuth[i] = azimuth;
    if (sin > 0.01) {
      const here = lightOf(sin, skies[day], camp.beam[i], slow.depth[i]);
      const there = lightOf(sin, skies[day], station.beam[i], slow.depth[i] + 0.05 * Math.sin(i / 37));
      sky.dni[i] = here.dni;
      sky.dhi[i] = here.dhi;
      sky.ghi[i] = here.dni * sin + here.dhi;
      at.dhi[i] = there.dhi * dayGain[day] * instrument;
      at.ghi[i] = (there.dni * sin + there.dhi) * dayGain[day] * instrument;
    }
    front += -front / 5000 + 0.03 * random.normal();
    own += (0.0006 * sky.ghi[i] - own) / 180;
    const swing = skies[day] === 'closed' ? 0.45 : 1;
    const solarHour = (((ms / 3_600_000 + lonDeg / 15) % 24) + 24) % 24;
    const wave = Math.cos(((solarHour - 15) / 24) * 2 * Math.PI);
    const hot = heat && day >= heat.from && day < heat.to ? heat.kelvin : 0;
    sky.air[i] = climate.meanC + hot + front + swing * 0.5 * climate.swingK * wave;
    gust += (climate.wind - gust) / 120 + 0.12 * random.normal();
    sky.wind[i] = Math.max(0.2, gust);
  }
  const rows = ['utc hour end,global horizontal W/m2,diffuse horizontal W/m2,air temperature C,wind m/s'];
  const hour0 = (60 - (Math.round(startMs / 60_000) % 60)) % 60;
  const bias = 0.6 * random.normal();
  for (let i = hour0; i + 60 <= n; i += 60) {
    const mean = (column) => column.subarray(i, i + 60).reduce((sum, one) => sum + one, 0) / 60;
    const stamp = new Date(startMs + (i + 60) * 60_000).toISOString().slice(0, 16).replace('T', ' ');
    rows.push(
      [
        stamp,
        mean(at.ghi).toFixed(0),
        mean(at.dhi).toFixed(0),
        (mean(sky.air) + bias).toFixed(1),
        mean(sky.wind).toFixed(1),
      ].join(','),
    );
  }
  return { ...sky, skies, station: `${rows.join('\n')}\n` };
}

/** Light on a tilted plane: beam, a bright part of the diffuse about the sun, the rest from all sides, the ground. */
export function onPlane({ dni, dhi, ghi, sin, azimuth }, i, tiltDeg, azimuthDeg) {
  if (sin[i] <= 0.01) return { direct: 0, other: 0 };
  const cosZ = sin[i];
  const [t, sinZ] = [tiltDeg * RAD, Math.sqrt(1 - cosZ * cosZ)];
  const cosI = Math.max(0, cosZ * Math.cos(t) + sinZ * Math.sin(t) * Math.cos((azimuth[i] - azimuthDeg) * RAD));
  const glass = cosI > 0.09 ? Math.max(0, 1 - 0.05 * (1 / cosI - 1)) : 0;
  const bright = dni[i] > 200 ? 0.3 : 0;
  const ring = (dhi[i] * bright * cosI) / Math.max(0.1, cosZ);
  const rest = dhi[i] * (1 - bright) * 0.5 * (1 + Math.cos(t)) + ghi[i] * 0.2 * 0.5 * (1 - Math.cos(t));
  return { direct: (dni[i] * cosI + ring) * glass, other: rest * 0.95 };
}
