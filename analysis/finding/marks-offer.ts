import type { Board } from '../board/board.ts'
import type { Marks, RestMarks } from '../board/marks.ts'
import { mapImage } from '../camera/camera-motion.ts'
import { type MarksDraft, type Travel, travelOf } from '../marking/marks-draft.ts'
import { listInWords } from '../words/in-words.ts'
import type { CarriedGrounded, CarriedMarks } from './carry-marks.ts'
import type { FoundPlank } from './find-plank.ts'
import type { NotPlaced, RefinedPlank } from './refine-plank.ts'

/** Marks that the program offers; nothing is taken over without the handler. */
export interface MarksProposal {
  readonly marks: MarksDraft
  /** Found in this clip alone, or carried over from another clip of the same tripod place. */
  readonly source: 'found' | 'carried'
  /** Where they come from, for people: "found in the picture", "as in ride-12.mp4, same camera place". */
  readonly from: string
  /** Root mean square misfit of the fitted seesaw, full-resolution px and m on the plank; null if it could not be fitted. */
  readonly misfit: { readonly px: number; readonly m: number } | null
  /** A sentence: how far to trust it and what to check. */
  readonly advice: string
}

/** Why no plank is offered; `nothing-tips`: none was seen. */
export type NoPlank = 'nothing-tips' | NotPlaced

/** What the search for a plank came to. */
export interface MarksSearch {
  /** The likeliest first; nothing is offered that does not look right. */
  readonly offers: readonly MarksProposal[]
  /** null where there is an offer. */
  readonly noneBecause: NoPlank | null
  /** Which way the plank tips, and so the dog crosses; also where it was seen too roughly to offer marks. */
  readonly travel: Travel | null
}

const NONE_BECAUSE: Readonly<Record<NoPlank, string>> = {
  'nothing-tips': 'No plank that tips was seen in this clip.',
  'unlike-board': 'What tips in this clip does not fit the lengths of the board.',
  'too-little': 'Too little of the plank was seen clearly.',
  edges: 'The edges of the plank could not be told apart.',
  'from-above': 'The camera looks down on the plank too steeply to tell its edges apart.',
  'from-aside': 'The camera stands too far to one side to tell the edges of the plank apart.',
}

/**
 * Why no plank is offered.
 *
 * @param because what stood in the way
 * @returns a sentence
 */
export function noneBecauseInWords(because: NoPlank): string {
  return NONE_BECAUSE[because]
}

/** A plank looked at closely that fits its seesaw worse than this is a wrong find, m on the plank. */
const MOST_MISFIT_M = 0.015
/** Fewer points are no help. */
const LEAST_POINTS = 3
/** Marks that could not be placed anew are offered when places around them are found this well where they should be, px. */
const MOST_CARRIED_MISFIT_PX = 1.5
/** A board that was moved less is not worth a word, px. */
const MOVED_PX = 2

/** A plank along a wrong edge fits the board as well: seen in 3 of 19 offers in clips that nothing was tried out on. */
const LOOK =
  'Check both ends in both frames: sometimes a wrong edge is taken, most often from a high stand or from far to one side.'

/**
 * Marks of a plank that the program found by itself.
 *
 * @param found the plank as it was found, image px; @param refined looked at closely, or why that failed
 * @param board its lengths, m; @param isUsualBoard true where no board has been chosen
 * @returns or why there is nothing worth offering
 */
export function foundOffer(
  found: Pick<FoundPlank, 'rest'>,
  refined: RefinedPlank | NotPlaced,
  board: Board,
  isUsualBoard: boolean,
): MarksProposal | NoPlank {
  if (typeof refined === 'string') return refined
  if (!isWorthOffering(refined)) return 'too-little'
  const misfit = { px: refined.misfitPx, m: refined.misfitPx * metresPerPx(board, found.rest) }
  if (misfit.m > MOST_MISFIT_M) return 'unlike-board'
  const missing = missingIn(refined)
  const check = `${missing === null ? '' : `${missing} `}${LOOK}`
  return {
    marks: { rest: refined.rest, grounded: refined.grounded, neverLands: false },
    source: 'found',
    from: 'found in the picture',
    misfit,
    advice: isUsualBoard ? `${check} The usual board lengths were assumed, as no board is chosen.` : check,
  }
}

/** What marks carried over from another clip are made of. */
export interface CarriedParts {
  readonly fileName: string
  readonly carried: CarriedMarks
  /** How well the marks fit in their own clip, px. */
  readonly knownMisfitPx: number
  /** Where the plank landed here; null where that is not known. */
  readonly grounded: CarriedGrounded | null
  /** The same plank looked at closely here; null where that showed too little. */
  readonly refined: RefinedPlank | null
  readonly board: Board
}

/**
 * Marks carried over from a clip of the same tripod place: placed anew where the plank was seen well here.
 *
 * @param parts places in full-resolution image px of this clip
 * @returns null when places around them are not where they should be
 */
export function carriedOffer(parts: CarriedParts): MarksProposal | null {
  const { fileName, carried, knownMisfitPx, grounded, refined, board } = parts
  const mPerPx = metresPerPx(board, carried.rest)
  const isPlaced = refined !== null && isWorthOffering(refined) && refined.misfitPx * mPerPx < MOST_MISFIT_M
  if (!isPlaced && carried.misfitPx > MOST_CARRIED_MISFIT_PX) return null
  // Marks that are only carried are as far off as they were in their own clip, too.
  const misfitPx = isPlaced ? refined.misfitPx : Math.hypot(carried.misfitPx, knownMisfitPx)
  const alike = `The picture around the marks looks the same (${Math.floor(100 * carried.likeness)} %).`
  const moved =
    carried.movedPx > MOVED_PX ? ` The seesaw was moved by about ${carried.movedPx.toFixed(0)} px in between.` : ''
  return {
    marks: isPlaced
      ? { rest: refined.rest, grounded: refined.grounded, neverLands: false }
      : { rest: carried.rest, grounded: grounded?.grounded ?? null, neverLands: false },
    source: 'carried',
    from: `as in ${fileName}, same camera place`,
    misfit: { px: misfitPx, m: misfitPx * mPerPx },
    advice: `${alike}${moved} ${carriedAdvice(isPlaced ? refined : null, grounded)}`,
  }
}

/**
 * Where the plank landed in a known clip, in the frames in which it has landed here.
 *
 * @param marked the known clip's landed marks, image px; @param motion 3x3, from its image px to this clip's
 * @param found the plank as the program found it by itself, if it did: it knows when the plank has landed
 * @returns null where it is not known when the plank landed here
 */
export function groundedOf(
  marked: Marks['grounded'],
  motion: Float64Array,
  found: FoundPlank | null,
): CarriedGrounded | null {
  if (found === null) return null
  const { frame } = found.grounded
  const grounded =
    marked === undefined
      ? found.grounded
      : { frame, entryEnd: mapImage(motion, marked.entryEnd), exitEnd: mapImage(motion, marked.exitEnd) }
  return { grounded, frames: found.landedFrames }
}

/**
 * Whether marks of another clip may be of the same place and direction, before either is looked at.
 *
 * @param marks those of the other clip, whole; @param sizes of both pictures, px
 * @param travel which way the dog crosses here; null: not said yet
 * @returns false for another picture size or the other direction
 */
export function mayBeCarried(
  marks: Marks,
  sizes: readonly [PictureSizePx, PictureSizePx],
  travel: Travel | null,
): boolean {
  const [here, there] = sizes
  if (here.widthPx !== there.widthPx || here.heightPx !== there.heightPx) return false
  return travel === null || travel === travelOf(marks.rest)
}

interface PictureSizePx {
  readonly widthPx: number
  readonly heightPx: number
}

function isWorthOffering({ rest, grounded }: RefinedPlank): boolean {
  const points = [...Object.values(rest), ...Object.values(grounded)]
  return points.filter((one) => typeof one === 'object' && one !== null).length >= LEAST_POINTS
}

/** How much of the plank a pixel is, m. */
function metresPerPx(board: Board, { entryEnd, exitEnd }: Pick<RestMarks, 'entryEnd' | 'exitEnd'>): number {
  return board.lengthM / Math.hypot(exitEnd.xPx - entryEnd.xPx, exitEnd.yPx - entryEnd.yPx)
}

function carriedAdvice(placed: RefinedPlank | null, grounded: CarriedGrounded | null): string {
  if (placed !== null) return missingIn(placed) ?? 'Edges and ends were found anew in this clip. Check both ends.'
  if (grounded !== null) return 'Check both ends before you measure.'
  return 'No frame with the landed board was found: mark that one yourself, or say that it never lands.'
}

/** A sentence on the points that are not offered; null when all are. */
export function missingIn({ rest, grounded }: Pick<RefinedPlank, 'rest' | 'grounded'>): string | null {
  const names: readonly [unknown, string][] = [
    [rest.entryEnd, 'the entry end at rest'],
    [rest.exitEnd, 'the exit end at rest'],
    [rest.pivot, 'the pivot'],
    [rest.upContactEdge, 'the up contact border'],
    [rest.downContactEdge, 'the down contact border'],
    [grounded.entryEnd, 'the entry end with the exit end down'],
    [grounded.exitEnd, 'the exit end on the ground'],
  ]
  const missing = names.filter(([point]) => point === null).map(([, name]) => name)
  if (missing.length === 0) return null
  return `Not found well enough: ${listInWords(missing)}. Mark ${missing.length === 1 ? 'it' : 'them'} yourself.`
}
