// Seeded draws (mulberry32, public domain): the same seed gives the same vehicle.
export function randomOf(seed) {
  let state = (seed * 2654435761 + 0x9e3779b9) >>> 0;
  const uniform = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  for (let k = 0; k < 8; k++) uniform();
  const normal = () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
  return {
    uniform,
    normal,
    /** between two bounds */
    range: (low, high) => low + (high - low) * uniform(),
    /** whole number, both bounds included */
    whole: (low, high) => low + Math.floor((high - low + 1) * uniform()),
    /** about a middle, with a relative standard deviation, never beyond 2.5 of them */
    about: (middle, share) => middle * (1 + share * Math.max(-2.5, Math.min(2.5, normal()))),
    chance: (share) => uniform() < share,
    pick: (list) => list[Math.floor(uniform() * list.length)],
    exponential: (mean) => -mean * Math.log(1 - uniform()),
    /** a generator of its own */
    fork: () => randomOf(Math.floor(uniform() * 4294967296)),
  };
}
