import type { DogTrack } from '../../../analysis/dog/dog-track.ts'
import { colourCode } from '../../../analysis/silhouette/colour-code.ts'
import { BAND_M, type Look } from '../../../analysis/silhouette/look.ts'
import { type Outline, OUTLINE_UNIT_M } from '../../../analysis/silhouette/outline.ts'
import type { Lattice } from '../../../analysis/silhouette/surroundings.ts'
import { seededRandom } from '../../../analysis/numeric/random.ts'

/** A place ahead of the dog's body and above the plank, m. */
type Shape = (aheadM: number, aboveM: number) => boolean

/** A dog of simple shapes: trunk, neck, head, four legs. It steps by `phase`, 0-1. */
function dogShape(phase: number): Shape {
  const swing = 0.12 * Math.sin(2 * Math.PI * phase)
  const leg = (x: number, h: number, atM: number) => h > 0 && h < 0.3 && Math.abs(x - atM) < 0.03
  return (x, h) =>
    (x / 0.36) ** 2 + ((h - 0.37) / 0.12) ** 2 < 1 ||
    Math.hypot(x - 0.42, h - 0.52) < 0.09 ||
    (x > 0.2 && x < 0.42 && Math.abs(h - 0.4 - 0.6 * (x - 0.22)) < 0.06) ||
    [0.25 + swing, 0.25 - swing, -0.27 + swing, -0.27 - swing].some((atM) => leg(x, h, atM))
}

/** Somebody upright: legs, trunk, head; `atM` ahead of the dog's body. */
function personShape(atM: number): Shape {
  return (x, h) =>
    (h < 0.4 && (Math.abs(x - atM - 0.12) < 0.07 || Math.abs(x - atM + 0.12) < 0.07)) ||
    (h >= 0.4 && h < 1.0 && Math.abs(x - atM) < 0.2) ||
    Math.hypot(x - atM, h - 1.1) < 0.12
}

const LENGTH_M = 3.66
const STEP_M = 0.015
const PX_PER_M = 200

/** Looks at a level plank from the side: 1 m is 200 px. */
export const lattice: Lattice = {
  x0Px: 0,
  y0Px: 0,
  stepPx: STEP_M * PX_PER_M,
  stepM: STEP_M,
  columns: Math.ceil((LENGTH_M + 2) / STEP_M),
  rows: Math.ceil((BAND_M.to - BAND_M.from) / STEP_M),
  band: BAND_M,
}
const plankFromImage = Float64Array.of(1 / PX_PER_M, 0, -1, 0, -1 / PX_PER_M, BAND_M.to, 0, 0, 1)

const COLOURS = { dog: colourCode(60, 128, 128), person: colourCode(120, 150, 110), grass: colourCode(100, 110, 120) }

export interface Stay {
  readonly looks: readonly Look[]
  readonly dog: DogTrack
  readonly bodiesM: readonly number[]
  readonly phases: readonly number[]
}

/**
 * A dog that crosses in some frames, and a person `personAt` ahead of it in each, before it or behind it.
 * Noise: nothing is quite as expected.
 */
export function invented(
  frames: number,
  personAt: (frame: number) => number | null = () => null,
  isPersonBefore = false,
): Stay {
  const random = seededRandom(7)
  const phases = Array.from({ length: frames }, (_, k) => (k * 0.13) % 1)
  const bodiesM = phases.map((_, k) => 0.6 + (2.4 * k) / Math.max(1, frames - 1))
  const looks = bodiesM.map((bodyM, k) => {
    const isDog = dogShape(phases[k]!)
    const atM = personAt(k)
    const isPerson = atM === null ? () => false : personShape(atM)
    const count = lattice.columns * lattice.rows
    const deviation = new Uint8Array(count)
    const colours = new Uint16Array(count)
    for (let i = 0; i < count; i++) {
      const x = (i % lattice.columns) * STEP_M - 1 - bodyM
      const h = BAND_M.to - Math.floor(i / lattice.columns) * STEP_M
      const [dog, person] = [isDog(x, h), isPerson(x, h)]
      const what = dog && !(person && isPersonBefore) ? 'dog' : person ? 'person' : 'grass'
      colours[i] = COLOURS[what]
      deviation[i] = what === 'grass' ? Math.min(40, 7 * Math.abs(random.normal())) : 120
    }
    return {
      ptsS: k / 30,
      fromColumn: 0,
      fromRow: 0,
      columns: lattice.columns,
      rows: lattice.rows,
      deviation,
      colours,
      plankFromImage,
      endsHeightM: [0.6, 0.6] as const,
      lengthM: LENGTH_M,
    }
  })
  const curve = (ahead: (phase: number) => number) =>
    Float64Array.from(bodiesM, (bodyM, k) => bodyM + ahead(phases[k]!))
  const swing = (phase: number) => 0.12 * Math.abs(Math.sin(2 * Math.PI * phase))
  const sd = new Float64Array(frames).fill(0.02)
  const seen = { kind: 'seen', atS: 0, sdS: 0.01, alongM: 0, alongSdM: 0.01 } as const
  return {
    looks,
    bodiesM,
    phases,
    dog: {
      ptsS: Float64Array.from(bodiesM, (_, k) => k / 30),
      leadPawM: curve((phase) => 0.25 + swing(phase)),
      leadPawSdM: sd,
      rearPawM: curve((phase) => -0.27 - swing(phase)),
      rearPawSdM: sd,
      bodyM: curve(() => 0),
      bodySdM: sd,
      footfalls: [],
      firstOn: seen,
      lastOff: seen,
      stillOnAtEnd: false,
      onAtStart: false,
    },
  }
}

/** What an outline and the true dog share, over what either covers. */
export function shared(outline: Outline, { bodiesM, phases }: Stay, frame: number): number {
  const isDog = dogShape(phases[frame]!)
  const points = Array.from({ length: outline.length / 2 }, (_, i) => ({
    x: outline[2 * i]! * OUTLINE_UNIT_M - bodiesM[frame]!,
    h: outline[2 * i + 1]! * OUTLINE_UNIT_M,
  }))
  const isInside = (x: number, h: number) =>
    points.filter((a, i) => {
      const b = points[(i + 1) % points.length]!
      return a.h > h !== b.h > h && x < a.x + ((h - a.h) / (b.h - a.h)) * (b.x - a.x)
    }).length %
      2 ===
    1
  let [both, either] = [0, 0]
  for (let x = -0.9; x < 0.9; x += 0.01) {
    for (let h = -0.1; h < 1.1; h += 0.01) {
      const [drawn, true_] = [isInside(x, h), isDog(x, h)]
      if (drawn && true_) both++
      if (drawn || true_) either++
    }
  }
  return both / either
}
