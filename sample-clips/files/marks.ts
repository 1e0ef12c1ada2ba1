import { Random } from '../random.ts'
import type { Scenario } from '../scenario.ts'
import { exitCornerHeightM } from '../simulation/board-place.ts'
import { instantAt, type Recording } from '../simulation/recording.ts'
import { frameTimesS } from './frame-times.ts'
import { MARKS, type MarkedPoints, type MarkName } from './marked-points.ts'

const CLICK_NOISE_PX = 1.5
const RESTING_AT_S = 0.25
const DOWN_M = 0.001

/** The file of a careful person's clicks: five on the resting board, two on the landed one if it lands. */
export function marksFile(scenario: Scenario, recording: Recording, clip: string, points: MarkedPoints) {
  const random = new Random(scenario.seed).fork('marks')
  const timesS = frameTimesS(scenario)
  const clicked = (frame: number, names: readonly MarkName[]) => {
    const exact = points.at(timesS[frame]!)
    const noisy = (value: number): number => Math.round(10 * (value + CLICK_NOISE_PX * random.normal())) / 10
    return {
      frame,
      timeS: Math.round(1e6 * timesS[frame]!) / 1e6,
      points: Object.fromEntries(names.map((name) => [name, exact[name].map(noisy)])),
    }
  }
  const resting = clicked(Math.round(RESTING_AT_S * scenario.camera.captureHz), MARKS)
  const down = downFrame(scenario, recording, timesS)
  const frames = down === null ? [resting] : [resting, clicked(down, ['entryEnd', 'exitEnd'])]
  return { schema: 'marks/1', clip, frames }
}

/** The middle of the longest run of frames with the exit end on the ground; the lowest frame if it only touches. */
function downFrame(scenario: Scenario, recording: Recording, timesS: readonly number[]): number | null {
  const { groundedS } = recording
  if (groundedS === null || groundedS > timesS.at(-1)!) return null
  const heightsM = timesS.map((t) =>
    t < groundedS ? Infinity : exitCornerHeightM(scenario.board, instantAt(recording, t).board),
  )
  let best: readonly [number, number] = [0, 0]
  let from = 0
  heightsM.forEach((heightM, i) => {
    if (heightM > DOWN_M) from = i + 1
    else if (i + 1 - from > best[1] - best[0]) best = [from, i + 1]
  })
  if (best[1] > best[0]) return Math.floor((best[0] + best[1] - 1) / 2)
  return heightsM.indexOf(Math.min(...heightsM))
}
