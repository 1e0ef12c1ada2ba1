import type { MarksDraft } from '../../main/contract/clips.ts'
import type { Marks } from '../../analysis/board/marks.ts'
import { type Truth, trueNumber } from '../accuracy/clips-with-truth.ts'

/** Where each marked point truly is in each frame, full-resolution image px. */
export type TruePoints = Readonly<Record<string, readonly (readonly [number, number])[]>>

/** Filmed clips have no true places: marks made by hand on a still camera's clip, which are the same in all frames. */
export function pointsOfMarks({ rest, grounded }: Marks, frameCount: number, groundedFrom: number): TruePoints {
  const { entryEnd, exitEnd, pivot, upContactEdge, downContactEdge } = rest
  const points = { entryEnd, exitEnd, pivot, upContactEdge, downContactEdge }
  return Object.fromEntries(
    Object.entries(points).map(([name, at]) => {
      const landed = name === 'entryEnd' || name === 'exitEnd' ? (grounded?.[name] ?? at) : at
      const places = Array.from({ length: frameCount }, (_, frame) => (frame < groundedFrom ? at : landed))
      return [name, places.map(({ xPx, yPx }) => [xPx, yPx] as const)]
    }),
  )
}

export interface FindingScore {
  readonly name: string
  /** The first word of the clip's name: how an invented clip is filmed. */
  readonly kind: string
  /** Whether the board lands within the clip: without that there is no second mark to find. */
  readonly lands: boolean
  /**
   * `found`: every point offered; `part`: some; `wrong`: a point lies further off than a careful click would, or the
   * frames do not show what is said of them.
   */
  readonly outcome: 'found' | 'part' | 'none' | 'wrong'
  readonly points: number
  readonly offsPx: readonly number[]
  readonly worstPx: number | null
  readonly cpuS: number
  /** Whether two crossing bars were seen at all. */
  readonly isRough: boolean
}

/** Clicks by hand are good to about 1.5 px at 960 px of width (common practice); twice and a half that is wrong. */
const WRONG_SHARE = 4 / 960
/** So far the board may have turned in a frame in which it is said to lie, deg. */
const LIES_DEG = 0.5

/**
 * How right an offer is.
 *
 * @param name of the clip
 * @param marks offered; null when none were
 * @param px true places
 * @param truth of the clip
 * @param cpuS processor time that the offer took
 * @param isRough whether a plank was seen roughly
 */
export function scoreFinding(
  name: string,
  marks: MarksDraft | null,
  px: TruePoints,
  truth: Truth,
  cpuS: number,
  isRough: boolean,
): FindingScore {
  const grounded = trueNumber(truth.events, 'groundedS')
  const lands = grounded !== null && grounded < truth.frames.ptsS.at(-1)!
  const kind = /^[a-z]+/.exec(name)?.[0] ?? name
  const same = { name, kind, lands, cpuS, isRough }
  if (marks === null || marks.rest === null) return { ...same, outcome: 'none', points: 0, offsPx: [], worstPx: null }
  const offs = [marks.rest, marks.grounded].flatMap((one) =>
    one === null
      ? []
      : Object.entries(one).flatMap(([point, at]: [string, unknown]) => {
          if (typeof at !== 'object' || at === null) return []
          const { xPx, yPx } = at as { xPx: number; yPx: number }
          const [x, y] = px[point]![one.frame]!
          return [Math.hypot(xPx - x, yPx - y)]
        }),
  )
  const worstPx = Math.max(...offs)
  const { angleDeg } = truth.frames
  const restOff = Math.abs(angleDeg[marks.rest.frame]! - angleDeg[0]!)
  const landedOff = marks.grounded === null ? 0 : Math.max(...angleDeg) - angleDeg[marks.grounded.frame]!
  const lengthPx = Math.hypot(
    px['exitEnd']![marks.rest.frame]![0] - px['entryEnd']![marks.rest.frame]![0],
    px['exitEnd']![marks.rest.frame]![1] - px['entryEnd']![marks.rest.frame]![1],
  )
  const mostPx = Math.max(2.5, (WRONG_SHARE * lengthPx) / 0.6)
  const isWrong = worstPx > mostPx || restOff > LIES_DEG || landedOff > 2 * LIES_DEG
  const outcome = isWrong ? 'wrong' : offs.length === 7 ? 'found' : 'part'
  return { ...same, outcome, points: offs.length, offsPx: offs, worstPx }
}
