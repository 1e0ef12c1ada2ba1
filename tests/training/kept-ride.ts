import { dogOnFrames } from '../../analysis/dog/on-frames.ts'
import { followDog } from '../../analysis/dog/follow-dog.ts'
import type { PawOdds } from '../../analysis/dog/paw-odds.ts'
import { findBoardEvents } from '../../analysis/ride/board-events.ts'
import { rideFrom } from '../../analysis/ride/measure-ride.ts'
import type { Ride } from '../../analysis/ride/ride.ts'
import type { KeptFilm } from './kept-film.ts'

/**
 * The first ride of a kept film.
 *
 * @param odds what the network made of each stretch
 * @returns null when no dog was found on the plank
 */
export function keptRide({ name, board, stretches }: KeptFilm, odds: readonly PawOdds[]): Ride | null {
  for (const [i, { film, track }] of stretches.entries()) {
    const [dog] = followDog(film, odds[i]!)
    if (dog === undefined) continue
    return rideFrom({
      track,
      boardEvents: findBoardEvents(track),
      dog: dogOnFrames(dog, track.ptsS),
      sound: null,
      clip: { ...CLIP, fileName: name },
      board,
      programVersion: 'bench',
      notes: [],
    })
  }
  return null
}

/** Nothing that is compared depends on it. */
const CLIP = {
  sha256: '',
  widthPx: 0,
  heightPx: 0,
  rotationDeg: 0,
  frameCount: 0,
  durationS: 0,
  captureRateHz: 30,
  slowMotionFactor: 1,
  slowMotionEvidence: '',
} as const
