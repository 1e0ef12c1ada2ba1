import { COLOUR_COUNT, softened } from './colour-code.ts'
import { AHEAD_M, ELSEWHERE, HEIGHTS_M, PLACE_COLUMNS, PLACE_ROWS, UNSEEN, type PlacedLook } from './placed-look.ts'

/** A dog stands as wide as in this share of its looks, counted from the narrowest: few strides are at full stretch. */
const WIDE_SHARE = 0.75
/** The border of what a dog reaches is blurred by this share of the reach, and by this much in height, m. */
const REACH_BLUR = 0.1
const HEIGHT_ROOM_M = 0.1
/** A place that was never looked at counts as looked at by this much, so that nothing is divided by 0. */
const LOOKED_AT_LEAST = 0.1
/** Colours are told apart no better than by this share of both. */
const COLOUR_DOUBT = 0.05

/** What one dog looks like in one stay: where about its body it is seen, and in which colours. */
export interface DogLikeness {
  /** For each place about the body, in what share of frames the dog is seen there, 0-1. */
  readonly shape: Float32Array
  /** How much more often than people and all else the dog has a colour, as odds, one a colour. */
  readonly colourOdds: Float32Array
}

/** What each point of a look probably shows, 0-1: the dog, something else that does not belong to the empty scene. */
export interface Shares {
  readonly dog: Float32Array
  readonly others: Float32Array
}

const PLACES = PLACE_COLUMNS * PLACE_ROWS
const ROUNDS = 4
/** The shape of other frames is believed only so much: the dog moves. */
const SHAPE_TRUST = 0.75
/** The middle of the body is seen in about so many frames, hidden or not. */
const CORE_SHARE = 0.95
/** Below this height the plank's own edges differ as well when it moves, m. */
const EDGE_HEIGHT_M = 0.03
/** A leg may be anywhere below the body, between its paws and this far beyond, m. */
const LEG_HEIGHT_M = 0.32
const LEG_BEYOND_M = 0.12
const LEG_SHARE = 0.2
const LEAST_SHARE = 0.004
/** How far a dog reaches ahead of and behind its body's centre and up, in its own size: a wide step of its paws, m. */
const AHEAD = 1.4
const BEHIND = 1.6
const HIGH = 1.8
const LEAST_SIZE_M = 0.3
/** How likely a person is where nothing of it is seen above, and where one surely stands; hips and shoulders begin at, m. */
const PERSON_SHARE = { least: 0.001, most: 0.6 }
const HIPS_FROM_M = 0.4
const SHOULDERS_FROM_M = 0.75
/** A frame in which a person stands where the dog is tells only so much about the dog. */
const HIDDEN_WEIGHT = 0.02
/** So near to its centre the dog's body surely is, m. */
const BODY_M = 0.5
/** Doubt of a colour that was seldom seen, in shares of all points. */
const RARE_SHARE = 2e-4

/**
 * Learns what the dog of a stay looks like. Who moves with the body's centre, about as large as a dog, is the dog; what
 * goes on far above it is people. Shape and colours of both are sharpened in a few rounds (expectation maximisation,
 * Dempster, Laird and Rubin 1977).
 *
 * @param looks frames spread over the stay, 8 to 40
 * @returns shape and colours
 */
export function learnDog(looks: readonly PlacedLook[]): DogLikeness {
  const weights = looks.map(weightOf)
  const reach = reachOf(looks)
  let dog: DogLikeness = {
    shape: firstShape(looks, weights, reach),
    colourOdds: new Float32Array(COLOUR_COUNT).fill(1),
  }
  for (let round = 0; round < ROUNDS; round++) {
    const sum = new Float32Array(PLACES)
    const weight = new Float32Array(PLACES).fill(1)
    const ofDog = new Float32Array(COLOUR_COUNT)
    const ofOthers = new Float32Array(COLOUR_COUNT)
    looks.forEach((one, k) => {
      const { cells, colours, odds } = one
      const shares = sharesIn(dog, one)
      for (let i = 0; i < cells.length; i++) {
        const cell = cells[i]!
        const colour = colours[i]!
        if (cell === UNSEEN) continue
        if (cell === ELSEWHERE) {
          if (odds[i]! > SURELY_SOMETHING) ofOthers[colour]!++
          continue
        }
        sum[cell]! += weights[k]! * shares.dog[i]!
        weight[cell]! += weights[k]!
        if (odds[i]! < PROBABLY_SOMETHING) continue
        ofDog[colour]! += weights[k]! * shares.dog[i]!
        // What is where the dog usually is tells little about others.
        ofOthers[colour]! += (1 - dog.shape[cell]!) ** 2 * shares.others[i]!
      }
    })
    const seen = sum.map((value, cell) => (reach[cell]! * value) / weight[cell]!)
    dog = { shape: upTo(CORE_SHARE, smoothed(seen)), colourOdds: colourOddsOf(ofDog, ofOthers) }
  }
  return dog
}

const SURELY_SOMETHING = 12
/** Odds and shares up to here come to nothing together. */
const FAINT = 0.15
const PROBABLY_SOMETHING = 3

/**
 * How likely each point of a look shows the dog, and how likely something else that is not the empty scene.
 *
 * @param dog what the dog looks like
 * @param one the look about it
 * @returns shares, one a point; 0 for points outside the dog's places
 */
export function sharesIn(dog: DogLikeness, one: PlacedLook): Shares {
  const { cells, colours, odds, columns, people } = one
  const [legs, hips, shoulders] = people
  const fromM = one.rearAheadM - LEG_BEYOND_M
  const toM = one.leadAheadM + LEG_BEYOND_M
  const ofDog = new Float32Array(cells.length)
  const ofOthers = new Float32Array(cells.length)
  for (let i = 0, column = 0; i < cells.length; i++, column = column === columns - 1 ? 0 : column + 1) {
    const cell = cells[i]!
    if (cell < 0 || (odds[i]! < FAINT && dog.shape[cell]! < FAINT)) continue
    const row = (cell / PLACE_COLUMNS) | 0
    const heightM = HEIGHTS_M[row]!
    const person = (heightM > SHOULDERS_FROM_M ? shoulders : heightM > HIPS_FROM_M ? hips : legs)[column]!
    const otherShare = PERSON_SHARE.least + (PERSON_SHARE.most - PERSON_SHARE.least) * person
    const dogShare = Math.max(
      leastShare(heightM, AHEAD_M[cell - row * PLACE_COLUMNS]!, fromM, toM),
      shapeAt(dog, cell, heightM),
    )
    const empty = (1 - dogShare) * (1 - otherShare)
    const here = ((1 - empty) / empty) * odds[i]!
    const something = here / (1 + here)
    const asDog = dogShare * dog.colourOdds[colours[i]!]!
    ofDog[i] = (something * asDog) / (asDog + otherShare)
    ofOthers[i] = something - ofDog[i]!
  }
  return { dog: ofDog, others: ofOthers }
}

/** How likely the dog is at a place by what is known of any dog: its legs are between its paws. */
function leastShare(heightM: number, aheadM: number, fromM: number, toM: number): number {
  return heightM > EDGE_HEIGHT_M && heightM < LEG_HEIGHT_M && aheadM > fromM && aheadM < toM ? LEG_SHARE : LEAST_SHARE
}

function shapeAt(dog: DogLikeness, cell: number, heightM: number): number {
  const share = SHAPE_TRUST * dog.shape[cell]!
  return heightM < EDGE_HEIGHT_M ? (share * Math.max(0, heightM)) / EDGE_HEIGHT_M : share
}

/** How much a look tells about the dog alone: less when a person stands where its body is. */
function weightOf({ cells, people, columns }: PlacedLook): number {
  let most = 0
  for (let i = 0; i < cells.length; i++) {
    const cell = cells[i]!
    if (cell >= 0 && Math.abs(AHEAD_M[cell % PLACE_COLUMNS]!) < BODY_M) most = Math.max(most, people[1][i % columns]!)
  }
  return Math.max(HIDDEN_WEIGHT, (1 - most) ** 2)
}

/**
 * About how likely a dog reaches a place about its body, 0-1, one value a place: its size is told by how far its paws
 * stand apart (our judgement).
 */
function reachOf(looks: readonly PlacedLook[]): Float32Array {
  const strides = looks.map(({ rearAheadM, leadAheadM }) => leadAheadM - rearAheadM).sort((a, b) => a - b)
  const sizeM = Math.max(LEAST_SIZE_M, strides[Math.floor(WIDE_SHARE * (strides.length - 1))] ?? 0)
  return Float32Array.from({ length: PLACES }, (_, cell) => {
    const aheadM = AHEAD_M[cell % PLACE_COLUMNS]!
    const along = aheadM / (sizeM * (aheadM > 0 ? AHEAD : BEHIND))
    const halfM = 0.5 * HIGH * sizeM
    const up = (HEIGHTS_M[Math.floor(cell / PLACE_COLUMNS)]! - halfM) / (halfM + HEIGHT_ROOM_M)
    return 1 / (1 + Math.exp((Math.hypot(along, up) - 1) / REACH_BLUR))
  })
}

/** Whatever is strange about the body, as far as a dog reaches. */
function firstShape(looks: readonly PlacedLook[], weights: readonly number[], reach: Float32Array): Float32Array {
  const sum = new Float32Array(PLACES)
  const weight = new Float32Array(PLACES).fill(LOOKED_AT_LEAST)
  looks.forEach(({ cells, odds }, k) => {
    for (let i = 0; i < cells.length; i++) {
      if (cells[i]! < 0) continue
      sum[cells[i]!]! += (weights[k]! * odds[i]!) / (odds[i]! + PROBABLY_SOMETHING)
      weight[cells[i]!]! += weights[k]!
    }
  })
  return sum.map((value, cell) => (reach[cell]! * value) / weight[cell]!)
}

function colourOddsOf(ofDog: Float32Array, ofOthers: Float32Array): Float32Array {
  const total = (counts: Float32Array) => counts.reduce((a, b) => a + b, 1)
  const [dogTotal, otherTotal] = [total(ofDog), total(ofOthers)]
  const others = softened(ofOthers)
  return softened(ofDog).map((count, colour) => {
    const share = count / dogTotal
    const other = others[colour]! / otherTotal
    const doubt = COLOUR_DOUBT * (share + other) + RARE_SHARE
    return (share + doubt) / (other + doubt)
  })
}

/** A shape with its surest place at a share: there is always a dog. */
function upTo(share: number, shape: Float32Array): Float32Array {
  const most = shape.reduce((a, b) => Math.max(a, b), 1e-3)
  return shape.map((value) => (value * share) / most)
}

/** The mean of each place and its eight neighbours. */
function smoothed(shape: Float32Array): Float32Array {
  const out = new Float32Array(PLACES)
  for (let cell = 0; cell < PLACES; cell++) {
    const column = cell % PLACE_COLUMNS
    const row = Math.floor(cell / PLACE_COLUMNS)
    let sum = 0
    let count = 0
    for (let r = Math.max(0, row - 1); r <= Math.min(PLACE_ROWS - 1, row + 1); r++) {
      for (let c = Math.max(0, column - 1); c <= Math.min(PLACE_COLUMNS - 1, column + 1); c++) {
        sum += shape[r * PLACE_COLUMNS + c]!
        count++
      }
    }
    out[cell] = sum / count
  }
  return out
}
