import type { Estimate, Measured } from '../estimate.ts'
import type { Ride } from '../ride/ride.ts'
import {
  acrossLandingInWords,
  evenMarginInWords,
  fixed,
  marginInWords,
  placeInWords,
  placeMarginInWords,
  placeParts,
  sideOfLandingInWords,
} from './in-words.ts'
import type { Units } from './units.ts'

/** What a handler asks first, as a sentence of four parts: "The dog held still for" "0.50 s" "± 0.03" "before the board landed". */
export interface Answer {
  readonly lead: string
  /** The part that stands out. */
  readonly figure: string
  readonly margin: string | null
  /** The rest of the sentence; null where the figure ends it. */
  readonly tail: string | null
  /** A further sentence: why the number is missing, or what goes with it. */
  readonly more: string | null
  /** A duration to be shown on a scale as well. */
  readonly durationS: Estimate | null
}

/** An answer, its `lead`, `figure`, `margin`, `tail` and `more`, as plain text: "The dog held still for 0.50 s ± 0.03 before the board landed." */
export function answerText({ lead, figure, margin, tail, more }: Answer): string {
  const sentence = `${[lead, figure, margin, tail].filter((part) => part !== null).join(' ')}.`
  return more === null ? sentence : `${sentence} ${more}`
}

const HELD = 'The dog held still for'
const STAYED = 'The dog stayed on for'
const BEFORE_LANDING = 'before the board landed'
const AFTER_LANDING = 'after the landing'

/** Below this a hold is told as none, s: less than a dog needs to stop. */
const noHoldS = 0.1

/**
 * The answers of a ride: whether it stayed, whether it held, where it tipped; for a bail-off how far it came.
 *
 * @param ride s and m; @param lengthM of the plank; @param units in which lengths are told
 * @returns one to three, in the order in which a handler asks
 */
export function answersOf(ride: Ride, lengthM: number, units: Units = 'metric'): readonly Answer[] {
  if (ride.leaving.verdict === 'before-tip') return [bailOffAnswer(ride, lengthM, units)]
  return [leavingAnswer(ride), holdAnswer(ride), tipAnswer(ride, lengthM, units)].filter((answer) => answer !== null)
}

function bailOffAnswer(ride: Ride, lengthM: number, units: Units): Answer {
  const { firstOn, left } = ride.events
  const onS = firstOn.kind === 'measured' && left.kind === 'measured' ? left.value - firstOn.value : null
  const foremostM = Math.max(...ride.footfalls.map((step) => step.alongM))
  const sentences = [
    onS === null ? [] : [`It was on the plank for ${fixed(onS, 2)} s.`],
    ride.footfalls.length === 0 ? [] : [`Its foremost step was ${placeInWords(foremostM, lengthM, units)}.`],
  ]
  return plain('The dog left', 'before the board began to tip', sentences.flat().join(' ') || null)
}

function tipAnswer(ride: Ride, lengthM: number, units: Units): Answer {
  const lead = ride.measures.leadPawAtTipM
  if (lead.kind === 'withheld') {
    if (lead.reason === 'never-tipped') return plain('The board', 'did not begin to tip', null)
    return plain('Where the lead paw was when the board began to tip was', 'not measured', lead.detail)
  }
  const body = ride.measures.bodyAtTipM
  const more = body.kind === 'measured' ? `The body centre was ${placeSentence(body, lengthM, units)}.` : null
  const [distance, where] = placeParts(lead.value, lengthM, units)
  return {
    lead: `The board began to tip with the lead paw${lead.kind === 'atLeast' ? ' at least' : ''}`,
    figure: distance ?? where,
    margin: lead.kind === 'measured' ? placeMarginInWords(lead, lengthM, units) : null,
    tail: distance === null ? null : where,
    more,
    durationS: null,
  }
}

function placeSentence(place: Measured, lengthM: number, units: Units): string {
  const [distance, where] = placeParts(place.value, lengthM, units)
  const margin = placeMarginInWords(place, lengthM, units)
  return distance === null ? `${where} ${margin}` : `${distance} ${margin} ${where}`
}

/** null where the answer about leaving tells enough: no landing, or left before it. */
function holdAnswer(ride: Ride): Answer | null {
  const hold = ride.measures.holdBeforeGroundS
  if (hold.kind === 'withheld') {
    if (hold.reason === 'never-tipped' || hold.reason === 'never-landed') return null
    if (hold.reason === 'left-before' && ride.leaving.verdict === 'before-ground') return null
    if (hold.reason === 'left-before') return plain('When the board landed, the dog', 'had already left', null)
    return plain('How long the dog held still before the landing was', 'not measured', hold.detail)
  }
  if (hold.kind === 'atLeast') {
    const figure = `at least ${fixed(hold.value, 2)} s`
    return { lead: HELD, figure, margin: null, tail: BEFORE_LANDING, more: null, durationS: hold }
  }
  const margin = marginInWords(hold, 2)
  if (hold.ci95[1] < noHoldS) {
    const more = `It had held still for ${fixed(hold.value, 2)} s ${margin}.`
    return plain('As the board landed, the dog', 'was still on the move', more)
  }
  return { lead: HELD, figure: `${fixed(hold.value, 2)} s`, margin, tail: BEFORE_LANDING, more: null, durationS: hold }
}

function leavingAnswer(ride: Ride): Answer {
  const { stayAfterGroundS: stay, leavingMarginS: margin } = ride.measures
  switch (ride.leaving.verdict) {
    case 'after-ground':
      return stayAnswer(stay)
    case 'before-ground': {
      if (margin.kind === 'measured') {
        return {
          ...plain('The dog left', `${fixed(Math.abs(margin.value), 2)} s`, null),
          margin: evenMarginInWords(margin, 2),
          tail: sideOfLandingInWords(margin.value),
        }
      }
      const more = ride.events.grounded.kind === 'withheld' ? ride.events.grounded.detail : null
      return plain('The dog left', 'after the board began to tip, before it landed', more)
    }
    case 'before-tip':
      return plain('The dog left', 'before the board began to tip', null)
    case 'too-close': {
      const more = margin.kind === 'measured' ? `It left ${acrossLandingInWords(margin.ci95)} the landing.` : null
      return plain('Whether the dog left before or after the landing is', 'too close to call', more)
    }
    case 'not-seen':
      return plain('Whether the dog stayed on until the landing was', 'not seen', detailOf(margin))
  }
}

function stayAnswer(stay: Estimate): Answer {
  switch (stay.kind) {
    case 'measured': {
      const figure = `${fixed(stay.value, 2)} s`
      return { lead: STAYED, figure, margin: marginInWords(stay, 2), tail: AFTER_LANDING, more: null, durationS: stay }
    }
    case 'atLeast': {
      const figure = `at least ${fixed(stay.value, 2)} s`
      const more = 'It was still on the board when the clip ended.'
      return { lead: STAYED, figure, margin: null, tail: AFTER_LANDING, more, durationS: stay }
    }
    case 'withheld':
      return plain('The dog left', 'after the landing', stay.detail)
  }
}

function plain(lead: string, figure: string, more: string | null): Answer {
  return { lead, figure, margin: null, tail: null, more, durationS: null }
}

function detailOf(estimate: Estimate): string | null {
  return estimate.kind === 'withheld' ? estimate.detail : null
}
