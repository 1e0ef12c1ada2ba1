/** A clip's sound track, mixed to one channel, as it is stored in the file: slowed sound stays slowed here. */
export interface Sound {
  /** -1 to 1. */
  readonly samples: Float32Array
  /** Samples per second of the file's own time. */
  readonly rateHz: number
  /** s of real time on the clip's clock (first video frame = 0) of the first sample. */
  readonly startS: number
  /** Capture rate over stored rate: 8 for 240 fps stored at 30; 1 for an ordinary clip. */
  readonly slowMotionFactor: number
}

/**
 * How many samples the sound has in a second of real time.
 *
 * Everything in this folder works at this rate, so slowed sound needs no case of its own: its samples lie closer
 * together in real time and its frequencies come out at their true pitch.
 *
 * @param sound a sound track
 * @returns Hz of real time: 44 100 Hz slowed eight times gives 352 800
 */
export function realRateHz(sound: Sound): number {
  return sound.rateHz * sound.slowMotionFactor
}

/**
 * When the sound ends.
 *
 * @param sound a sound track
 * @returns s of real time on the clip's clock
 */
export function soundEndS(sound: Sound): number {
  return sound.startS + sound.samples.length / realRateHz(sound)
}

/**
 * The part of a sound between two times.
 *
 * @param sound a sound track
 * @param fromS s of real time
 * @param toS s of real time, after `fromS`
 * @returns the same sound, cut to whole samples; shorter where the track does not reach; shares memory with `sound`
 */
export function cutSound(sound: Sound, fromS: number, toS: number): Sound {
  const rateHz = realRateHz(sound)
  const index = (atS: number) => Math.min(Math.max(Math.round((atS - sound.startS) * rateHz), 0), sound.samples.length)
  const [from, to] = [index(fromS), index(toS)]
  return { ...sound, samples: sound.samples.subarray(from, Math.max(from, to)), startS: sound.startS + from / rateHz }
}
