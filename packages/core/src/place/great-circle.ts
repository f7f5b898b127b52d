/** Mean radius of the Earth [km]. Source: IUGG (Moritz, Geodetic Reference System 1980). */
const EARTH_KM = 6371.0088;

/** Great-circle distance between two points of a sphere, by the haversine formula [km]. Within 0.6 % of the ellipsoid. */
export function greatCircleKm(latDeg: number, lonDeg: number, otherLatDeg: number, otherLonDeg: number): number {
  const rad = Math.PI / 180;
  const sinLat = Math.sin(((otherLatDeg - latDeg) * rad) / 2);
  const sinLon = Math.sin(((otherLonDeg - lonDeg) * rad) / 2);
  const h = sinLat * sinLat + Math.cos(latDeg * rad) * Math.cos(otherLatDeg * rad) * sinLon * sinLon;
  return 2 * EARTH_KM * Math.asin(Math.min(1, Math.sqrt(h)));
}
