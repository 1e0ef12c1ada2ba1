import type { Calibration, SeesawCamera } from '../calibration/seesaw-camera.ts'
import { leastSquares } from '../numeric/least-squares.ts'
import { median } from '../numeric/robust.ts'
import { plankOutline } from '../scene/plank-outline.ts'
import { acrossProfile, type AcrossProfile, type RowSpan } from './across-profile.ts'
import { type Expected, LayersProblem } from './layers-problem.ts'
import { plankStrip, type PlankStrip, rowAt, type TurnedPicture } from './plank-strip.ts'
import { angleOf, stretches } from './sight-plank.ts'

/** A picture of the plank in one of its places, and pictures of what was behind it. */
export interface PlankView {
  readonly when: 'rest' | 'grounded'
  readonly picture: TurnedPicture
  readonly behind: readonly TurnedPicture[]
}

/** One value for each place where the plank lies. */
export interface InBoth<T> {
  readonly rest: T
  readonly grounded: T
}

/** What the bands along the plank are: where its near face lies, and what else is seen of it. */
export interface PlankBands {
  /** How far the near top edge lies above where the camera has it, m. */
  readonly nearAboveM: InBoth<number>
  /** Height of the near face, m. */
  readonly thicknessM: number
  /** How much is seen of the top face; negative: of the underside; m. */
  readonly topM: InBoth<number>
  /** How much worse the likeliest other reading explains the pictures: one that puts the near top edge elsewhere. */
  readonly lead: number
}

/** Heights of the near face that are tried, m; what is common, as mean and 1 sd (common practice). */
const THICKNESSES_M = [0.02, 0.026, 0.032, 0.038, 0.044, 0.05, 0.056]
const THICKNESS_M = 0.04
const THICKNESS_SD_M = 0.012
/** The near edge is looked for so far from where the camera has it, m. */
const REACH_M = 0.075
/** The plank hides what was behind it where it crosses its other place: nothing is looked at so near the pivot, m. */
const PIVOT_M = 0.25
/** How well it is known at best how much less is seen of the top once the plank has turned, 1 sd, m. */
const TURN_SD_M = 0.008
/** So much is seen of the underside at most, and of the top, m: a camera on the ground, and one 3 m up. */
const MOST_UNDER_M = 0.06
const MOST_TOP_M = 0.15
const STEP_M = 0.006
/** A row's mean colour is off by so much for reasons that are not looked at, grey levels. */
const ROW_SD = 6
/** Rows next to an edge are a mixture. */
const MIXED_ROWS = 1
/** The near face turns in its own plane, so that its light stays: grey levels between both places, 1 sd. */
const SAME_FACE_SD = 10
/** Top and near face are one paint in different light; the underside may be bare: 1 sd of luma and of chroma. */
const TOP_SD: readonly [number, number] = [40, 12]
const UNDER_SD: readonly [number, number] = [60, 40]
/** Another face must explain so much in each stretch. */
const FACE_WORTH = 4
/** Fewer stretches that are not hidden tell too little. */
const LEAST_STRETCHES = 4
/** A row that differs this much differs for sure, squares of grey levels. */
const CAP = (8 * ROW_SD) ** 2
/** Readings of one place that are kept for each height of the near face. */
const KEPT = 8
/** The likeliest of all are looked at closer, with blurred edges that may lie so far off, 1 sd, rows. */
const LOOKED_CLOSER = 14
const EDGE_SD_ROWS = 0.9
/** Rows are half a px high: so many tell as much as one that stands alone. */
const ROWS_TOGETHER = 2
/** Near edges this close are the same reading, px. */
const SAME_PX = 1.6

/**
 * Tells the plank's near face from its top and its underside. Along the whole plank it shows bands of one height each:
 * the near face, and either some of the top or some of the underside. All readings of the bands in both places where
 * the plank lies are tried: the near face is equally high in both and, as it turns in its own plane, lit alike.
 *
 * @param calibration with the plank's long edges about parallel to where they are; which edge is which may be wrong
 * @param contactM length of a zone, m
 * @param views of the plank at rest and landed
 * @returns null where too little of the plank is seen
 */
export function readBands(
  { best: camera, draws }: Calibration,
  contactM: number,
  views: InBoth<PlankView>,
): PlankBands | null {
  const turns = draws.map(topChangeM)
  const middleM = median(turns)
  const sdM = Math.sqrt(turns.reduce((sum, one) => sum + (one - middleM) ** 2, 0) / turns.length)
  const straightened = ({ when, picture, behind }: PlankView): Straightened => {
    const [entry, exit] = plankOutline(camera, angleOf(camera, when)).farShiftM
    return {
      strip: plankStrip(camera, angleOf(camera, when), picture, behind),
      stretches: stretches(camera.lengthM, contactM, (entry + exit) / 2).filter(
        ([fromM, toM]) => Math.abs((fromM + toM) / 2 - camera.lengthM / 2) >= PIVOT_M,
      ),
    }
  }
  return bandsIn({ rest: straightened(views.rest), grounded: straightened(views.grounded) }, [middleM, sdM])
}

/** A straightened picture, and the stretches of one colour in it, m from and to. */
export interface Straightened {
  readonly strip: PlankStrip
  readonly stretches: readonly (readonly [number, number])[]
}

/**
 * The same from pictures that are straightened already.
 *
 * @param pictures of the plank at rest and landed
 * @param turn how much more is seen of the top at rest than landed, m: mean and 1 sd
 * @returns null where too little of the plank is seen
 */
export function bandsIn(pictures: InBoth<Straightened>, turn: readonly [number, number]): PlankBands | null {
  const looks = { rest: look(pictures.rest), grounded: look(pictures.grounded) }
  if (looks.rest === null || looks.grounded === null) return null
  const turnSdM = Math.max(TURN_SD_M, turn[1])
  const readings: Reading[] = []
  for (const thicknessM of THICKNESSES_M) {
    const prior = ((thicknessM - THICKNESS_M) / THICKNESS_SD_M) ** 2
    const [rest, grounded] = [looks.rest, looks.grounded].map((one) => likeliest(one, thicknessM)) as [Side[], Side[]]
    for (const a of rest) {
      for (const b of grounded) {
        const turned = ((a.topM - b.topM - turn[0]) / turnSdM) ** 2
        const apart = prior + turned
        readings.push({
          cost: a.cost + b.cost + apart + unlike(a.near, b.near),
          apart,
          thicknessM,
          rest: a,
          grounded: b,
        })
      }
    }
  }
  const sameM = SAME_PX * looks.rest.strip.columnM
  const { rest, grounded } = looks
  const closer = differing(readings, sameM / 2)
    .slice(0, LOOKED_CLOSER)
    .map((one) => closely(one, rest, grounded))
    .sort((a, b) => a.cost - b.cost)
  const [best] = closer
  if (best === undefined || isExtreme(best)) return null
  const second = Math.min(...closer.filter((one) => isElsewhere(one, best, sameM)).map(({ cost }) => cost))
  return {
    nearAboveM: { rest: best.rest.nearM, grounded: best.grounded.nearM },
    thicknessM: best.thicknessM,
    topM: { rest: best.rest.topM, grounded: best.grounded.topM },
    lead: (second - best.cost) / Math.max(1, best.cost / (looks.rest.rowCount + looks.grounded.rowCount)),
  }
}

/** How much more is seen of the top at rest than landed: that depends on where the camera stands along the plank, m. */
function topChangeM(camera: SeesawCamera): number {
  const [rest, grounded] = (['rest', 'grounded'] as const).map((when) => {
    const [entry, exit] = plankOutline(camera, angleOf(camera, when)).farTopM
    return (entry + exit) / 2
  }) as [number, number]
  return rest - grounded
}

/** Sums over the rows of a stretch, of colours and of squares of what differs from the background. */
interface StretchSums {
  readonly alongM: number
  readonly profile: AcrossProfile
  readonly colours: readonly [Float64Array, Float64Array, Float64Array]
  readonly squares: Float64Array
  readonly offBelow: Float64Array
  readonly offAbove: Float64Array
}

interface Look {
  readonly strip: PlankStrip
  readonly span: RowSpan
  readonly stretches: readonly StretchSums[]
  /** Values that tell, in all stretches. */
  readonly rowCount: number
}

/** One reading of the bands in one place. */
interface Side {
  readonly cost: number
  readonly nearM: number
  readonly topM: number
  /** Of the near face, by the stretch's place along the plank. */
  readonly near: ReadonlyMap<number, Colour>
}

type Colour = readonly [number, number, number]

interface Reading extends InBoth<Side> {
  readonly cost: number
  /** Part of it: how unlikely its heights are by themselves. */
  readonly apart: number
  readonly thicknessM: number
}

function look({ strip, stretches: parts }: Straightened): Look | null {
  const at = (aboveM: number) => Math.min(strip.rows - 1, Math.max(1, Math.round(rowAt(strip, aboveM))))
  const span: RowSpan = [at(-REACH_M - THICKNESSES_M.at(-1)!), at(REACH_M + MOST_TOP_M / 2)]
  const all = parts.flatMap(([fromM, toM]): StretchSums[] => {
    const profile = acrossProfile(strip, [fromM, toM], [span[1], strip.rows], [0, span[0]])
    return profile === null ? [] : [sumsOf(profile, (fromM + toM) / 2)]
  })
  const rowCount = (3 * all.length * (span[1] - span[0])) / ROWS_TOGETHER
  return all.length < LEAST_STRETCHES ? null : { strip, span, stretches: all, rowCount }
}

function sumsOf(profile: AcrossProfile, alongM: number): StretchSums {
  const { rows, seen, below, above } = profile
  const sums = () => new Float64Array(rows + 1)
  const colours = [sums(), sums(), sums()] as const
  const [squares, offBelow, offAbove] = [sums(), sums(), sums()]
  for (let row = 0; row < rows; row++) {
    let [all, low, high] = [0, 0, 0]
    for (let c = 0; c < 3; c++) {
      const value = seen[3 * row + c]!
      colours[c]![row + 1] = colours[c]![row]! + value
      all += value * value
      low += (value - below[3 * row + c]!) ** 2
      high += (value - above[3 * row + c]!) ** 2
    }
    squares[row + 1] = squares[row]! + all
    offBelow[row + 1] = offBelow[row]! + Math.min(CAP, low)
    offAbove[row + 1] = offAbove[row]! + Math.min(CAP, high)
  }
  return { alongM, profile, colours, squares, offBelow, offAbove }
}

function likeliest(seen: Look, thicknessM: number): Side[] {
  const sides: Side[] = []
  const step = Math.max(STEP_M, seen.strip.rowM)
  for (let nearM = -REACH_M; nearM <= REACH_M; nearM += step / 2) {
    for (let topM = -MOST_UNDER_M; topM <= MOST_TOP_M; topM += step) {
      const side = sideOf(seen, thicknessM, nearM, Math.abs(topM) < step / 2 ? 0 : topM)
      if (side !== null) sides.push(side)
    }
  }
  const kept: Side[] = []
  for (const side of sides.sort((a, b) => a.cost - b.cost)) {
    if (kept.every((one) => Math.abs(one.nearM - side.nearM) > step || one.topM > 0 !== side.topM > 0)) kept.push(side)
    if (kept.length === KEPT) break
  }
  return kept
}

function sideOf({ strip, span, stretches: all }: Look, thicknessM: number, nearM: number, topM: number): Side | null {
  const row = (aboveM: number) => Math.round(rowAt(strip, aboveM))
  const [nearTop, nearLow] = [row(nearM), row(nearM - thicknessM)]
  const farTop = Math.max(nearTop, row(nearM + topM))
  const bottom = Math.min(nearLow, row(nearM - thicknessM + topM))
  if (nearTop - nearLow < 2 * MIXED_ROWS + 1 || bottom < span[0] || farTop > span[1]) return null
  const near = new Map<number, Colour>()
  const hasOther = farTop > nearTop || bottom < nearLow
  let cost = 0
  for (const sums of all) {
    const nearFace = faceOf(sums, nearLow, nearTop)
    const other = farTop > nearTop ? faceOf(sums, nearTop, farTop) : hasOther ? faceOf(sums, bottom, nearLow) : null
    const outside =
      sums.offBelow[Math.max(span[0], bottom - MIXED_ROWS)]! -
      sums.offBelow[span[0]]! +
      sums.offAbove[span[1]]! -
      sums.offAbove[Math.min(span[1], farTop + MIXED_ROWS)]!
    cost += (outside + nearFace.off + (other?.off ?? 0)) / ROW_SD ** 2 / ROWS_TOGETHER
    if (other !== null) {
      const [luma, chroma] = farTop > nearTop ? TOP_SD : UNDER_SD
      const [y, u, v] = [0, 1, 2].map((c) => other.mean[c]! - nearFace.mean[c]!) as [number, number, number]
      cost += FACE_WORTH + (y / luma) ** 2 + (u * u + v * v) / chroma ** 2
    }
    near.set(sums.alongM, nearFace.mean)
  }
  return { cost, nearM, topM, near }
}

/** A face's mean colour, and how far its rows are from that in squares; rows next to its edges count as if they fitted. */
function faceOf(sums: StretchSums, from: number, to: number): { mean: readonly [number, number, number]; off: number } {
  const [a, b] = to - from > 2 * MIXED_ROWS ? [from + MIXED_ROWS, to - MIXED_ROWS] : [from, to]
  const n = Math.max(1, b - a)
  const mean = sums.colours.map((of) => (of[b]! - of[a]!) / n) as [number, number, number]
  const off = sums.squares[b]! - sums.squares[a]! - n * mean.reduce((sum, one) => sum + one * one, 0)
  return { mean, off: Math.max(0, off) }
}

/** The likeliest readings, each different from those before it. */
function differing(readings: readonly Reading[], sameM: number): Reading[] {
  const kept: Reading[] = []
  for (const reading of readings.toSorted((a, b) => a.cost - b.cost)) {
    const isNew = kept.every(
      (one) =>
        isElsewhere(one, reading, sameM) ||
        Math.sign(one.rest.topM) !== Math.sign(reading.rest.topM) ||
        Math.sign(one.grounded.topM) !== Math.sign(reading.grounded.topM),
    )
    if (isNew) kept.push(reading)
    if (kept.length === LOOKED_CLOSER) break
  }
  return kept
}

/** At the border of what was tried the likeliest may lie beyond it. */
function isExtreme({ thicknessM, rest, grounded }: Reading): boolean {
  return (
    thicknessM === THICKNESSES_M[0] ||
    thicknessM === THICKNESSES_M.at(-1) ||
    [rest, grounded].some(
      ({ nearM, topM }) =>
        Math.abs(nearM) > REACH_M - STEP_M || topM < STEP_M / 2 - MOST_UNDER_M || topM > MOST_TOP_M - STEP_M / 2,
    )
  )
}

function isElsewhere(a: Reading, b: Reading, sameM: number): boolean {
  return Math.abs(a.rest.nearM - b.rest.nearM) > sameM || Math.abs(a.grounded.nearM - b.grounded.nearM) > sameM
}

/** A reading with its cost by blurred edges, which may shift a little in each stretch, in place of sharp ones. */
function closely(reading: Reading, rest: Look, grounded: Look): Reading {
  const sides = [
    { look: rest, side: reading.rest },
    { look: grounded, side: reading.grounded },
  ].map((one) => closeSide(one.look, one.side, reading.thicknessM)) as [Side, Side]
  const cost = sides[0].cost + sides[1].cost + reading.apart + unlike(sides[0].near, sides[1].near)
  return { ...reading, cost, rest: sides[0], grounded: sides[1] }
}

function closeSide({ strip, span, stretches: all }: Look, side: Side, thicknessM: number): Side {
  const rows = (m: number): Expected => [m / strip.rowM, EDGE_SD_ROWS]
  const heights = [thicknessM, Math.max(0, side.topM), Math.max(0, -side.topM)].map(rows)
  const faces = { top: side.topM > 0, under: side.topM < 0 }
  const near = new Map<number, Colour>()
  let cost = 0
  for (const { profile, alongM } of all) {
    const problem = new LayersProblem(profile, span, faces, heights as [Expected, Expected, Expected])
    const row = rowAt(strip, side.nearM)
    const fit = leastSquares(problem, problem.start(row, 0), { maxIterations: 5, tolerance: 2e-2 })
    const offRows = fit.parameters[0]! - row
    cost += (fit.sumOfSquares + (offRows / EDGE_SD_ROWS) ** 2) / ROWS_TOGETHER
    if (side.topM !== 0) cost += FACE_WORTH
    near.set(alongM, problem.nearColour(fit.parameters))
  }
  return { ...side, cost, near }
}

/** How unlike the near face looks in both places. */
function unlike(a: Side['near'], b: Side['near']): number {
  let cost = 0
  for (const [alongM, mean] of a) {
    const other = b.get(alongM)
    if (other === undefined) continue
    cost += mean.reduce((sum, one, c) => sum + (one - other[c]!) ** 2, 0) / (2 * SAME_FACE_SD ** 2)
  }
  return cost
}
