import type { Calibration, SeesawCamera } from '../calibration/seesaw-camera.ts'
import type { Sighting } from '../calibration/sightings.ts'
import { plankOutline } from '../scene/plank-outline.ts'
import { type EdgeAcross, type ExpectedLayers, seeLayers } from './layers-across.ts'
import { plankStrip, type TurnedPicture } from './plank-strip.ts'
import { seeBorder, seeEnd, type StepAlong } from './steps-along.ts'

/** What was seen of the plank in one picture, in image px of the reference picture. */
export interface PlankSight {
  /** The near top edge, one sighting a stretch. */
  readonly nearTop: readonly Sighting[]
  readonly otherEdges: readonly Sighting[]
  /** Ends and zone borders. */
  readonly places: readonly Sighting[]
}

/** The plank is looked at in stretches of about this length, m, each of one colour. */
const STRETCH_M = 0.4
/** Nothing is looked at nearer than this to where the colour changes, m, so that a rough guess does no harm. */
const INSET_M = 0.06
/** The stand covers the lower edge this far from the pivot, m. */
const STAND_M = 0.5
/** Looked for this many sd from where it is expected, but not further than this share of the length, and at least so far. */
const REACH_SD = 3.5
const MOST_REACH = 0.025
const LEAST_REACH_PX = 3

/**
 * Looks for edges, ends and zone borders of the plank near the places where a calibrated camera expects them.
 *
 * @param calibration its draws say how far from there to look
 * @param contactM length of a zone, m
 * @param when which of both resting places the picture shows
 * @param picture with the plank; `behind` are pictures with the plank in its other place
 * @param behind see `picture`
 * @returns what was seen; a feature that does not stand out is missing
 */
export function sightPlank(
  calibration: Calibration,
  contactM: number,
  when: 'rest' | 'grounded',
  picture: TurnedPicture,
  behind: readonly TurnedPicture[],
): PlankSight {
  const { best } = calibration
  const angleRad = angleOf(best, when)
  const strip = plankStrip(best, angleRad, picture, behind)
  const nearTop: Sighting[] = []
  const otherEdges: Sighting[] = []
  const { lengthM } = best
  const pxM = strip.columnM
  const reachOf = (sdM: number) => Math.min(MOST_REACH * lengthM, Math.max(LEAST_REACH_PX * pxM, REACH_SD * sdM))
  const edge = (alongM: number, seen: EdgeAcross | null, side: Sighting['edge'], acrossM: number): Sighting[] =>
    seen === null ? [] : [edgeSighting(best, angleRad, { alongM, ...seen, side, acrossM, pxM })]
  for (const [fromM, toM] of stretches(lengthM, contactM)) {
    const alongM = (fromM + toM) / 2
    const expected = expectedLayers(calibration, when, alongM, reachOf)
    const seen = seeLayers(strip, [fromM, toM], expected)
    if (seen === null) continue
    nearTop.push(...edge(alongM, seen.nearTop, 'upper', 0))
    otherEdges.push(...edge(alongM, seen.farTop, 'upper', best.widthM))
    const isAtStand = Math.abs(alongM - lengthM / 2) < STAND_M
    if (!isAtStand) otherEdges.push(...edge(alongM, seen.nearLow, 'lower', 0))
  }
  const face = { fromM: -0.75 * best.thicknessM, toM: -0.25 * best.thicknessM }
  const place = (alongM: number, look: (reachM: number) => StepAlong | null) => {
    const seen = look(reachOf(spreadAlong(calibration, when, alongM)))
    return seen === null ? [] : [placeSighting(best, angleRad, { alongM, pxM, seen })]
  }
  const end = (alongM: number, outwards: 1 | -1) => {
    const far = { alongM, aboveM: -best.thicknessM / 2, acrossM: best.widthM }
    const beyondM = outwards * (best.plankFromImage(best.imageFromPlank(far, angleRad), angleRad, 0).alongM - alongM)
    return place(alongM, (reachM) => seeEnd(strip, alongM, reachM, face, outwards, Math.max(0, beyondM)))
  }
  const border = (alongM: number) => place(alongM, (reachM) => seeBorder(strip, alongM, reachM, face))
  const places = [...end(0, -1), ...border(contactM), ...border(lengthM - contactM), ...end(lengthM, 1)]
  return { nearTop, otherEdges, places }
}

/**
 * The board's angle in one of both places where it lies.
 *
 * @param camera calibrated
 * @param when with the entry end down, or the exit end
 * @returns rad
 */
export function angleOf(camera: SeesawCamera, when: 'rest' | 'grounded'): number {
  return when === 'rest' ? camera.restAngleRad : camera.groundedAngleRad
}

/**
 * Stretches of the plank of one colour each, some distance from where colours change.
 *
 * @param lengthM of the plank
 * @param contactM length of a zone
 * @param farShiftM how much further along the far edge appears than the near one, so that colours change further on
 * @returns from and to, m from the entry end
 */
export function stretches(lengthM: number, contactM: number, farShiftM = 0): (readonly [number, number])[] {
  const parts = [
    [0, contactM],
    [contactM, lengthM - contactM],
    [lengthM - contactM, lengthM],
  ] as const
  return parts.flatMap(([a, b]) => {
    const [from, to] = [a + INSET_M + Math.max(0, farShiftM), b - INSET_M + Math.min(0, farShiftM)]
    const count = Math.max(1, Math.round((to - from) / STRETCH_M))
    return Array.from({ length: count }, (_, k) => {
      const step = (to - from) / count
      return [from + k * step, from + (k + 1) * step] as const
    })
  })
}

function expectedLayers(
  { best, draws }: Calibration,
  when: 'rest' | 'grounded',
  alongM: number,
  reachOf: (sdM: number) => number,
): ExpectedLayers {
  const share = alongM / best.lengthM
  const at = ([entry, exit]: readonly [number, number]) => entry + share * (exit - entry)
  const outlines = [best, ...draws].map((camera) => ({ camera, outline: plankOutline(camera, angleOf(camera, when)) }))
  const of = (value: (one: (typeof outlines)[number]) => number): readonly [number, number] => {
    const values = outlines.map(value)
    return [values[0]!, Math.max(0.002, sdAbout(values[0]!, values.slice(1)))]
  }
  const near = draws.map((camera) => {
    const image = camera.imageFromPlank({ alongM, aboveM: 0, acrossM: 0 }, angleOf(camera, when))
    return best.plankFromImage(image, angleOf(best, when), 0).aboveM
  })
  return {
    reachM: reachOf(sdAbout(0, near)),
    topM: of(({ outline }) => at(outline.farTopM)),
    thicknessM: of(({ camera }) => camera.thicknessM),
    underM: of(({ camera, outline }) => -camera.thicknessM - at(outline.bottomM)),
  }
}

/** How far the draws put a place along the plank from where the best camera does, m, 1 sd. */
function spreadAlong({ best, draws }: Calibration, when: 'rest' | 'grounded', placeM: number): number {
  const places = draws.map((camera) => {
    const image = camera.imageFromPlank({ alongM: placeM, aboveM: 0, acrossM: 0 }, angleOf(camera, when))
    return best.plankFromImage(image, angleOf(best, when), 0).alongM
  })
  return sdAbout(placeM, places)
}

function sdAbout(middle: number, values: readonly number[]): number {
  return Math.sqrt(values.reduce((sum, value) => sum + (value - middle) ** 2, 0) / values.length)
}

function edgeSighting(
  camera: SeesawCamera,
  angleRad: number,
  seen: EdgeAcross & { alongM: number; side: Sighting['edge']; acrossM: number; pxM: number },
): Sighting {
  const { alongM, aboveM, sdM, side, acrossM, pxM } = seen
  const image = camera.imageFromPlank({ alongM, aboveM, acrossM: 0 }, angleRad)
  const beside = camera.imageFromPlank({ alongM: alongM + 0.01, aboveM, acrossM: 0 }, angleRad)
  const [dx, dy] = [beside.xPx - image.xPx, beside.yPx - image.yPx]
  const length = Math.hypot(dx, dy)
  return {
    family: `${side} edge${acrossM > 0 ? ', far' : ''}`,
    alongM,
    edge: side,
    acrossM,
    image,
    normal: { x: -dy / length, y: dx / length },
    sdPx: sdM / pxM,
  }
}

/** A place along the plank counts only in that direction. */
function placeSighting(
  camera: SeesawCamera,
  angleRad: number,
  { alongM, pxM, seen }: { alongM: number; pxM: number; seen: StepAlong },
): Sighting {
  const at = (m: number) => camera.imageFromPlank({ alongM: m, aboveM: 0, acrossM: 0 }, angleRad)
  const [image, beside] = [at(seen.alongM), at(seen.alongM + 0.01)]
  const [dx, dy] = [beside.xPx - image.xPx, beside.yPx - image.yPx]
  const length = Math.hypot(dx, dy)
  return {
    family: `place ${alongM.toFixed(3)}`,
    alongM,
    edge: 'upper',
    image,
    normal: { x: dx / length, y: dy / length },
    sdPx: seen.sdM / pxM,
  }
}
