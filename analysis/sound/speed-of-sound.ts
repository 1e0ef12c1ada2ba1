/** Speed of sound in dry air at 0 °C, m/s, and 0 °C in K: see `speedOfSoundMps`'s source below. */
const AT_ZERO_MPS = 331.3
const ZERO_K = 273.15
/** Air temperature when the user has not given one: anywhere between frost and a hot day, so the middle and spread of that range. */
const UNKNOWN_C = { middle: 17.5, sd: 35 / Math.sqrt(12) }
/** A temperature the user typed in is the weather report's, not the one over the grass. Our judgement, no source. */
const GIVEN_SD_C = 3
/** Wind along the way (a few m/s) and humidity (up to 0.6 %) change the speed too. Our judgement, no source. */
const WIND_AND_HUMIDITY_SD_MPS = 3

/**
 * Speed of sound in dry air.
 *
 * Source: dry-air formula 331.3 sqrt(1 + t / 273.15); within 0.2 % of the values given by J. O. Smith, Physical Audio
 * Signal Processing (Stanford CCRMA).
 *
 * @param temperatureC degrees Celsius, above -273.15
 * @returns m/s: `speedOfSoundMps(20)` is 343.2
 */
export function speedOfSoundMps(temperatureC: number): number {
  return AT_ZERO_MPS * Math.sqrt(1 + temperatureC / ZERO_K)
}

/** How long the sound was on its way, with 1 sd, s. */
export interface Way {
  readonly delayS: number
  readonly sdS: number
}

/**
 * How long a sound takes from the landing place to the camera.
 *
 * @param distance camera to landing place and its 1 sd, m
 * @param temperatureC degrees Celsius; without it 0 to 35 is taken as equally likely
 * @returns delay and 1 sd, s: 10 m at 20 degrees take 0.0291 s
 */
export function wayThroughAir(
  distance: { readonly distanceM: number; readonly sdM: number },
  temperatureC?: number,
): Way {
  const [atC, sdC] = temperatureC === undefined ? [UNKNOWN_C.middle, UNKNOWN_C.sd] : [temperatureC, GIVEN_SD_C]
  const speedMps = speedOfSoundMps(atC)
  // d(speed) / dt of the formula above is speed / (2 T).
  const speedSdMps = Math.hypot((speedMps * sdC) / (2 * (atC + ZERO_K)), WIND_AND_HUMIDITY_SD_MPS)
  const delayS = distance.distanceM / speedMps
  return { delayS, sdS: Math.hypot(distance.sdM / speedMps, (delayS * speedSdMps) / speedMps) }
}
