import type { DogTrack } from '../dog/dog-track.ts'
import { outerBorder, simplified } from '../geometry/contour.ts'
import { applyHomography } from '../geometry/homography.ts'
import { evenlySpread } from '../numeric/evenly-spread.ts'
import { type DogLikeness, learnDog } from './dog-likeness.ts'
import { dogPart, type DogPart } from './dog-part.ts'
import type { Look } from './look.ts'
import { type Outline, OUTLINE_UNIT_M } from './outline.ts'
import { type DogLook, placed, type PlacedLook } from './placed-look.ts'
import type { Lattice } from './surroundings.ts'

/** The whole dog is as large as in this share of its parts, counted from the smallest. */
const WHOLE_SHARE = 0.75

/** So many frames of a stay are enough to learn a dog from. */
const LEARN_FROM = 16
const FEWEST = 8
/** A part of the dog that covers less of its body, may be more of something else, or is cut off is no silhouette. */
const LEAST_COVERED = 0.6
const MOST_DOUBTFUL = 0.15
const MOST_UNUSUAL = 0.3
const MOST_CUT_OFF = 6
/** How much smaller or larger than when it is seen whole it may be. */
const SIZES = { least: 0.62, most: 1.5 }
/** An outline is kept to this, in steps of the lattice. */
const TOLERANCE = 0.45

/** What a dog looks like in its stay, and where it was seen for that. */
export interface SeenDog {
  readonly likeness: DogLikeness
  readonly there: readonly { readonly one: DogLook; readonly k: number }[]
}

/**
 * Learns what the dog of a stay on the plank looks like.
 *
 * @param looks what differs from the empty scene, one a frame; null where nobody was near
 * @param lattice the points of the looks
 * @param dog where the dog was, one element a frame
 * @returns null where it is seen in too few frames
 */
export function seenDog(looks: readonly (Look | null)[], lattice: Lattice, dog: DogTrack): SeenDog | null {
  const there = looks.flatMap((look, k) => {
    const one = look === null ? null : dogLook(look, dog, k)
    return one === null ? [] : [{ one, k }]
  })
  if (there.length < FEWEST) return null
  return { likeness: learnDog(evenlySpread(there, LEARN_FROM).map(({ one }) => placed(one, lattice))), there }
}

/**
 * The dog's outline in each frame of a stay on the plank, told from who else is in the picture by what goes with its
 * paws and body, and by its colours.
 *
 * @param looks what differs from the empty scene, one a frame; null where nobody was near
 * @param lattice the points of the looks
 * @param dog where the dog was, one element a frame
 * @param seen from `seenDog`, where it is known already
 * @returns one outline a frame; null where the dog is not there, is cut off or hidden, or cannot be told from others
 */
export function dogOutlines(
  looks: readonly (Look | null)[],
  lattice: Lattice,
  dog: DogTrack,
  seen = seenDog(looks, lattice, dog),
): (Outline | null)[] {
  const out: (Outline | null)[] = looks.map(() => null)
  if (seen === null) return out
  const parts = seen.there.flatMap(({ one, k }) => {
    const view = placed(one, lattice)
    const part = dogPart(seen.likeness, view)
    return part === null ? [] : [{ part, view, look: one.look, k }]
  })
  const sizes = parts.map(({ part }) => part.points).sort((a, b) => a - b)
  const wholePoints = sizes[Math.floor(WHOLE_SHARE * (sizes.length - 1))] ?? 0
  for (const { part, view, look, k } of parts) {
    const size = part.points / wholePoints
    if (isClear(part) && size > SIZES.least && size < SIZES.most) out[k] = outlineOf(part, view, look, lattice)
  }
  return out
}

function isClear({ covered, doubtful, unusual, cutOff }: DogPart): boolean {
  return covered > LEAST_COVERED && doubtful < MOST_DOUBTFUL && unusual < MOST_UNUSUAL && cutOff <= MOST_CUT_OFF
}

function dogLook(look: Look, dog: DogTrack, k: number): DogLook | null {
  const [bodyM, rearM, leadM] = [dog.bodyM[k]!, dog.rearPawM[k]!, dog.leadPawM[k]!]
  if (Number.isNaN(bodyM) || (Number.isNaN(rearM) && Number.isNaN(leadM))) return null
  return {
    look,
    bodyM,
    rearM: Number.isNaN(rearM) ? bodyM : Math.min(rearM, bodyM),
    leadM: Number.isNaN(leadM) ? bodyM : Math.max(leadM, bodyM),
  }
}

/** The border of a part in the plane through the near edge. */
function outlineOf(part: DogPart, view: PlacedLook, look: Look, lattice: Lattice): Outline {
  return simplified(outerBorder(part.field, part.first), TOLERANCE).flatMap(([column, row]) => {
    const xPx = lattice.x0Px + (view.fromColumn + part.fromColumn + column) * lattice.stepPx
    const yPx = lattice.y0Px + (view.fromRow + part.fromRow + row) * lattice.stepPx
    return applyHomography(look.plankFromImage, xPx, yPx).map((metres) => Math.round(metres / OUTLINE_UNIT_M))
  })
}
