/** What a truth file tells of a run up; a part of it. */
export interface TruthOfRunUp {
  readonly board: {
    readonly lengthM: number
    readonly pivotHeightM: number
    readonly axisBelowTopM: number
    readonly restAngleDeg: number
  }
  readonly camera: { readonly positionM: readonly number[] }
  readonly events: { readonly firstOnS: number | null }
  readonly frames: {
    readonly ptsS: readonly number[]
    readonly angleDeg: readonly number[]
    readonly bodyCentreM: readonly number[]
    readonly paws: Readonly<
      Record<
        string,
        { readonly s: readonly number[]; readonly height: readonly number[]; readonly lateral: readonly number[] }
      >
    >
  }
}

/** The true run up, as the vocabulary of measures defines it; NaN where the clip does not hold it. */
export interface RunUp {
  readonly speedMps: number
  readonly angleDeg: number
  readonly offsetM: number
  readonly strideM: number
}

/** How much of the way to the plank the paws' path is taken over, m. */
const PATH_M = 1.5
const LANDS_WITHIN_S = 0.4
/** A paw that moves less than this from frame to frame stands, m; two of its places closer than this are one. */
const STILL_M = 0.004
const ONE_PLACE_M = 0.05

/**
 * Derives the run up from the truth of each frame: speed from the body's passings of -1 m and 0 along the plank's line,
 * angle and offset from the straight line through all places of all paws over the last 1.5 m of ground, seen from above
 * (least squares), stride from where front paws stand on the climb.
 */
export function runUpOf({ board, camera, events, frames }: TruthOfRunUp): RunUp {
  const near = Math.sign(camera.positionM[2]!)
  const rest = (board.restAngleDeg * Math.PI) / 180
  const entryXM = (-board.lengthM / 2) * Math.cos(rest) + board.axisBelowTopM * Math.sin(rest)
  const points = Object.values(frames.paws).flatMap(({ s, height, lateral }) =>
    s.flatMap((alongM, k) => {
      if (frames.ptsS[k]! > (events.firstOnS ?? Infinity) + LANDS_WITHIN_S) return []
      const angle = (frames.angleDeg[k]! * Math.PI) / 180
      const upM = height[k]! + board.axisBelowTopM
      const xM = (alongM - board.lengthM / 2) * Math.cos(angle) + upM * Math.sin(angle) - entryXM
      return xM > -PATH_M && xM < 0 ? [[xM, near * lateral[k]!] as const] : []
    }),
  )
  const meanX = mean(points.map(([x]) => x))
  const meanZ = mean(points.map(([, z]) => z))
  const slope = mean(points.map(([x, z]) => (x - meanX) * (z - meanZ))) / mean(points.map(([x]) => (x - meanX) ** 2))
  return {
    speedMps: 1 / (passingS(frames, 0) - passingS(frames, -1)),
    angleDeg: (180 / Math.PI) * Math.atan(-slope),
    offsetM: meanZ - slope * meanX,
    strideM: strideOn(frames, board.lengthM / 2),
  }
}

function passingS({ ptsS, bodyCentreM }: TruthOfRunUp['frames'], placeM: number): number {
  const k = bodyCentreM.findIndex((m, i) => i > 0 && bodyCentreM[i - 1]! < placeM && m >= placeM)
  if (k < 0) return NaN
  const share = (placeM - bodyCentreM[k - 1]!) / (bodyCentreM[k]! - bodyCentreM[k - 1]!)
  return ptsS[k - 1]! + share * (ptsS[k]! - ptsS[k - 1]!)
}

function strideOn({ paws }: TruthOfRunUp['frames'], toM: number): number {
  const strides = ['LF', 'RF'].flatMap((name) => {
    const { s } = paws[name]!
    const places = s.filter(
      (m, k) => k > 1 && m > 0 && m < toM && Math.abs(m - s[k - 1]!) + Math.abs(s[k - 1]! - s[k - 2]!) < 2 * STILL_M,
    )
    const footfalls = places.filter((m, k) => k === 0 || m - places[k - 1]! > ONE_PLACE_M)
    return footfalls.slice(1).map((m, k) => m - footfalls[k]!)
  })
  return mean(strides)
}

function mean(values: readonly number[]): number {
  return values.reduce((a, b) => a + b, 0) / values.length
}
