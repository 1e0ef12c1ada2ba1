import type { Calibration, SeesawCamera } from '../calibration/seesaw-camera.ts'
import type { Sighting } from '../calibration/sightings.ts'
import { plankOutline } from '../board/plank-outline.ts'
import { type EdgeAcross, type ExpectedLayers, seeLayers } from './layers-across.ts'
import { plankStrip, type TurnedPicture } from './plank-strip.ts'
import { seeBorder, seeEnd, type StepAlong } from './steps-along.ts'

/** A seen place along the plank, and where the camera expected it, both m. */
export interface PlaceSeen extends StepAlong {
  readonly expectedM: number
}

/** All that was seen of the plank in one picture. */
export interface PlankSight {
  readonly sightings: readonly Sighting[]
  /** Height of the near top edge over where it was expected, m, at the middles of the stretches in which it was seen. */
  readonly nearTop: readonly { readonly alongM: number; readonly offM: number }[]
  readonly entryEnd: PlaceSeen | null
  readonly exitEnd: PlaceSeen | null
  readonly upContactEdge: PlaceSeen | null
  readonly downContactEdge: PlaceSeen | null
}

/** The plank is looked at in stretches of about this length, m, each of one colour. */
const STRETCH_M = 0.4
/** Nothing is looked at nearer than this to where the colour changes, m, so that a rough guess does no harm. */
const INSET_M = 0.06
/** The stand covers the lower edge this far from the pivot, m. */
const STAND_M = 0.5
/** A face that is turned less than this towards the camera shows no end face, m. */
const SEEN_END_M = 0.003
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
 * @returns sightings in image px of the reference picture, and the same along the plank
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
  const sightings: Sighting[] = []
  const nearTop: { alongM: number; offM: number }[] = []
  const { lengthM } = best
  const pxM = strip.columnM
  const reachOf = (sdM: number) => Math.min(MOST_REACH * lengthM, Math.max(LEAST_REACH_PX * pxM, REACH_SD * sdM))
  const across = (alongM: number, edge: EdgeAcross | null, side: Sighting['edge'], acrossM: number) => {
    if (edge !== null) sightings.push(sighting(best, angleRad, { alongM, ...edge, side, acrossM, pxM }))
  }
  for (const [fromM, toM] of stretches(lengthM, contactM)) {
    const alongM = (fromM + toM) / 2
    const expected = expectedLayers(calibration, when, alongM, reachOf)
    const seen = seeLayers(strip, [fromM, toM], expected)
    if (seen === null) continue
    across(alongM, seen.nearTop, 'upper', 0)
    across(alongM, seen.farTop, 'upper', best.widthM)
    if (Math.abs(alongM - lengthM / 2) > STAND_M) across(alongM, seen.nearLow, 'lower', 0)
    if (seen.nearTop !== null) nearTop.push({ alongM, offM: seen.nearTop.aboveM })
  }
  const face = { fromM: -0.75 * best.thicknessM, toM: -0.25 * best.thicknessM }
  const along = (placeM: number, look: (reachM: number, expectedM: number) => StepAlong | null, acrossM = 0) => {
    const middle = { alongM: placeM, aboveM: -best.thicknessM / 2, acrossM }
    const expectedM = best.plankFromImage(best.imageFromPlank(middle, angleRad), angleRad, 0).alongM
    const seen = look(reachOf(spreadAlong(calibration, when, placeM)), expectedM)
    if (seen === null) return null
    sightings.push(alongSighting(best, angleRad, placeM, seen, expectedM, acrossM, pxM))
    return { ...seen, expectedM }
  }
  const endAt = (placeM: number, outwards: 1 | -1) => {
    const far = { alongM: placeM, aboveM: -best.thicknessM / 2, acrossM: best.widthM }
    const beyondM = outwards * (best.plankFromImage(best.imageFromPlank(far, angleRad), angleRad, 0).alongM - placeM)
    const acrossM = beyondM > SEEN_END_M ? best.widthM : 0
    return along(placeM, (reachM, expectedM) => seeEnd(strip, expectedM, reachM, face, outwards), acrossM)
  }
  const borderAt = (placeM: number) => along(placeM, (reachM, expectedM) => seeBorder(strip, expectedM, reachM, face))
  return {
    sightings,
    nearTop,
    entryEnd: endAt(0, -1),
    exitEnd: endAt(lengthM, 1),
    upContactEdge: borderAt(contactM),
    downContactEdge: borderAt(lengthM - contactM),
  }
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

function stretches(lengthM: number, contactM: number): (readonly [number, number])[] {
  const parts = [
    [0, contactM],
    [contactM, lengthM - contactM],
    [lengthM - contactM, lengthM],
  ] as const
  return parts.flatMap(([a, b]) => {
    const [from, to] = [a + INSET_M, b - INSET_M]
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

function sighting(
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
function alongSighting(
  camera: SeesawCamera,
  angleRad: number,
  placeM: number,
  seen: StepAlong,
  expectedM: number,
  acrossM: number,
  pxM: number,
): Sighting {
  // Seen half-way down the near face; handed over as if at the top edge, the same distance off.
  const at = camera.imageFromPlank({ alongM: placeM, aboveM: 0, acrossM }, angleRad)
  const off = (alongM: number) =>
    camera.imageFromPlank({ alongM, aboveM: -camera.thicknessM / 2, acrossM: 0 }, angleRad)
  const [here, there] = [off(expectedM), off(seen.alongM)]
  const beside = off(expectedM + 0.01)
  const [dx, dy] = [beside.xPx - here.xPx, beside.yPx - here.yPx]
  const length = Math.hypot(dx, dy)
  return {
    family: `place ${placeM.toFixed(3)}`,
    alongM: placeM,
    edge: 'upper',
    acrossM,
    image: { xPx: at.xPx + there.xPx - here.xPx, yPx: at.yPx + there.yPx - here.yPx },
    normal: { x: dx / length, y: dy / length },
    sdPx: seen.sdM / pxM,
  }
}
