import { materialOf } from '../board/material.ts'
import { measured, withheld } from '../estimate.ts'
import type { Estimate, WithheldReason } from '../estimate.ts'
import { normalDensity } from '../numeric/normal.ts'
import { highPass } from './high-pass.ts'
import { octavesOf } from './octaves.ts'
import type { Octave } from './octaves.ts'
import { pickOnset } from './onset-pick.ts'
import { onsetsInRun, onsetsOf } from './onsets.ts'
import type { Onset } from './onsets.ts'
import { risesOf } from './rises.ts'
import type { Rises } from './rises.ts'
import { cutSound, realRateHz, soundEndS } from './sound.ts'
import type { Sound } from './sound.ts'
import { wayThroughAir } from './speed-of-sound.ts'
import { howItRings } from './struck.ts'
import type { Ringing } from './struck.ts'

/** The landing, heard. */
export interface BangResult {
  /** When the landing's sound arrives at the camera, on the sound track: s of real time, not corrected for the way. */
  readonly heard: Estimate
  /** When the exit end landed, by its sound: s of real time on the picture's clock. */
  readonly groundedFromSound: Estimate
  /** True when the landing was heard beyond doubt. */
  readonly clear: boolean
  /** One sentence for a handler: what was heard, or why the sound is not used. */
  readonly why: string
}

export interface BangOptions {
  /** Air temperature, degrees Celsius; 0-35 if not given. */
  readonly temperatureC?: number
  /** What the board is made of, as in `board.json`. */
  readonly materialWord?: string
  /** Time between frames near the landing, s. */
  readonly frameS?: number
  /** How well sound and picture of the clip agree, 1 sd, s; 5 ms if not given. */
  readonly syncSdS?: number
}

/** Sound and picture of one phone, against each other, 1 sd. Common practice: a few ms; no source. */
const SYNC_SD_S = 0.005
/** The sound around the landing that tells what else is heard in this clip. */
const AROUND_S = 4
/** A track without a louder sample than this (full scale 1) is silent: a thirtieth of the smallest step of 16 bits. */
const SILENT = 1e-6
/** Sound that is needed before the search to know the background, and after it to hear how the bang rings, s. */
const HEARD_BEFORE_S = 0.1
const HEARD_AFTER_S = 0.15
/** Searched on both sides of the expected arrival, in sds. */
const SEARCH_SDS = 2.6
/** An onset within this much outside the search is looked at, too, to say that sound and picture may be out of step. */
const OUT_OF_STEP_S = 0.2
/** The landing's own bounces and rattle follow within this time and are not other sounds. */
const AFTERMATH_S = 0.3
/** The bang's own rise sets in no longer before the search than this, s. */
const RISE_S = 0.04
/** Against the background, an onset must stand out by this many sds and dB. */
const CLEAR = { score: 6, riseDb: 6 }
/** Sounds within this of the bang are as good: half its sound pressure. Our judgement, no source. */
const COMPETES_DB = 6
/** How much likelier the landing must be than an accident: "strong" from 20 on (Kass and Raftery, J Am Stat Assoc 1995). */
const LEAST_ODDS = 20
/** An onset that cannot be timed better than this (1 sd) is not sharp. */
const LEAST_SHARP_S = 0.002
/** Less sound than this around the landing does not tell how often others come. Our judgement, no source. */
const LEAST_SPAN_S = 0.5
/** A wooden board's landing holds frequencies below this. Common practice, no source. */
const WOOD_BELOW_HZ = 700

/**
 * Finds the landing bang near the seen landing and times the landing by it, only when it is clear.
 *
 * Method: onsets are rises of loudness over the background, octave by octave, in the octaves where they stand out best; the
 * Akaike picker then finds the foot. The arrival is expected at the seen landing plus the way through the air. The bang is
 * taken when the onset (a) stands out, (b) rings like a struck body, (c) has no rival in the time allowed, and (d) is at
 * least 20 times likelier to be the landing than one of the clip's other sounds of that strength fallen there by accident:
 * the normal density of its lateness over the rate of such sounds, an unheard half one added (Jeffreys' prior for a rate).
 *
 * @param sound the clip's sound track
 * @param seen the landing as seen, s of real time, and its 1 sd
 * @param distance camera to landing place and its 1 sd, m
 * @param options temperature, material, time between frames, agreement of sound and picture
 * @returns both times with intervals. That of `groundedFromSound` includes the pick, the way, the temperature and 5 ms (1 sd)
 *   by which a phone's sound and picture may disagree; that of `heard` only the pick. Withheld `no-sound` without sound,
 *   `clip-ends` when the sound does not reach, `not-clear` else, each with its sentence
 * @example seen at 3.400 s, 6.0 m away, bang at 3.4118 s: heard 3.4118 s, grounded 3.3943 s (17.5 ms on the way)
 */
export function findBang(
  sound: Sound,
  seen: { readonly groundedS: number; readonly sdS: number },
  distance: { readonly distanceM: number; readonly sdM: number },
  options: BangOptions = {},
): BangResult {
  const way = wayThroughAir(distance, options.temperatureC)
  const expectedS = seen.groundedS + way.delayS
  const syncSdS = options.syncSdS ?? SYNC_SD_S
  // The picture's timestamps may stand for another moment of the exposure than its middle.
  const frameSdS = (options.frameS ?? 0) / Math.sqrt(12)
  const expectedSdS = Math.hypot(seen.sdS, way.sdS, syncSdS, frameSdS)
  const reachS = SEARCH_SDS * expectedSdS
  if (sound.samples.every((sample) => Math.abs(sample) < SILENT)) {
    return notHeard('no-sound', 'The clip has no sound, so the landing is timed from the picture alone.')
  }
  if (sound.startS > expectedS - reachS - HEARD_BEFORE_S || soundEndS(sound) < expectedS + reachS + HEARD_AFTER_S) {
    return notHeard('clip-ends', 'The sound starts too late or ends too early to hear the landing.')
  }
  const near = cutSound(sound, expectedS - AROUND_S, expectedS + AROUND_S)
  const octaves = octavesOf(near.samples, realRateHz(near))
  const rises = risesOf(octaves)
  const arrivalS = expectedS - near.startS
  const candidates = onsetsOf(rises)
    .filter((onset) => Math.abs(onset.atS - arrivalS) <= reachS + OUT_OF_STEP_S)
    .filter((onset) => onset.score >= CLEAR.score && onset.riseDb >= CLEAR.riseDb)
    .flatMap((onset) => refined(octaves, onset))
  const [best, rival] = candidates
    .filter((candidate) => Math.abs(candidate.atS - arrivalS) <= reachS)
    .sort((a, b) => b.onset.riseDb - a.onset.riseDb)
  if (best === undefined) return notInTime(rises, candidates, arrivalS, reachS)
  if (rival !== undefined && (asStrong(rival.onset, best.onset) || rival.onset.jumpDb > best.onset.jumpDb)) {
    return notClear(
      `Two sharp sounds, ${ms(rival.atS - best.atS)} ms apart, come when the board lands: either may be it.`,
    )
  }
  if (best.rings === 'twice') {
    return notClear('Two sharp sounds come right after each other when the board lands: either may be it.')
  }
  if (best.rings !== 'struck') {
    return notClear(
      'The sound at the landing swells or lasts like a voice or a bark, not like a board that hits the ground.',
    )
  }
  if (best.sdS > LEAST_SHARP_S) {
    return notClear(
      'The sound at the landing sets in too softly, or too soon after another one, to time the landing by it.',
    )
  }
  if (materialOf(options.materialWord) === 'wood' && best.lowHz >= WOOD_BELOW_HZ) {
    return notClear('The sound at the landing is too high for a wooden board: it may be a clap or a click.')
  }
  const others = otherSounds(rises, best.onset, arrivalS, reachS)
  if (others.spanS < LEAST_SPAN_S) {
    return notClear('The clip holds too little sound around the landing to tell what else could be heard there.')
  }
  const lateS = best.atS - arrivalS
  const sdS = Math.hypot(expectedSdS, best.sdS)
  if (normalDensity(lateS / sdS) / sdS < (LEAST_ODDS * (others.count + 0.5)) / others.spanS) {
    return notClear(
      others.count === 0
        ? `The sound nearest to the landing comes ${ms(lateS)} ms ${lateS < 0 ? 'earlier' : 'later'} than it should: it may be something else.`
        : `${others.count === 1 ? 'Another sound' : `${others.count} other sounds`} of this clip ${others.count === 1 ? 'is' : 'are'} as sharp and loud as the one at the landing, so it may be there by accident.`,
    )
  }
  const heardS = near.startS + best.atS
  return {
    heard: measured(heardS, best.sdS),
    groundedFromSound: measured(heardS - way.delayS, Math.hypot(best.sdS, way.sdS, syncSdS)),
    clear: true,
    why: `A sharp sound from ${Math.round(best.lowHz)} to ${Math.round(best.highHz)} Hz, ${Math.round(best.onset.riseDb)} dB above what was there before, when the landing should be heard.`,
  }
}

/** An onset with its foot. Times in s after the first sample. */
interface Candidate {
  readonly onset: Onset
  readonly atS: number
  readonly sdS: number
  readonly rings: Ringing
  readonly lowHz: number
  readonly highHz: number
}

function refined(octaves: readonly Octave[], onset: Onset): Candidate[] {
  const [top, bottom] = [octaves[onset.run.first], octaves[onset.run.last]]
  if (top === undefined || bottom === undefined) return []
  const samples = highPass(top.whole, top.rateHz, bottom.lowHz)
  const pick = pickOnset(samples, top.rateHz, onset.atS)
  if (pick === null) return []
  const rings = howItRings(samples, top.rateHz, bottom.lowHz, pick.atS)
  return [{ onset, atS: pick.atS, sdS: pick.sdS, rings, lowHz: bottom.lowHz, highHz: top.highHz }]
}

/** Nearly as sharp as the bang or sharper, and nearly as loud or louder. */
function asStrong(onset: Onset, bang: Onset): boolean {
  return onset.riseDb > bang.riseDb - COMPETES_DB && onset.jumpDb > bang.jumpDb - COMPETES_DB
}

/** Sounds of the clip as strong as the bang in its own octaves, and the time they were looked for in. */
function otherSounds(rises: Rises, bang: Onset, arrivalS: number, reachS: number) {
  const [fromS, toS] = [arrivalS - reachS - RISE_S, arrivalS + reachS + AFTERMATH_S]
  const count = onsetsInRun(rises, bang.run)
    .filter((onset) => onset.atS < fromS || onset.atS > toS)
    .filter((onset) => asStrong(onset, bang)).length
  return { count, spanS: rises.count * rises.hopS - (toS - fromS) }
}

/** No onset came in time: says so, or that the clip's only such sound came a little too early or late. */
function notInTime(rises: Rises, candidates: readonly Candidate[], arrivalS: number, reachS: number): BangResult {
  const alone = candidates.filter(
    ({ onset, atS, rings }) => rings === 'struck' && otherSounds(rises, onset, atS, reachS).count === 0,
  )
  const [nearest] = alone.sort((a, b) => Math.abs(a.atS - arrivalS) - Math.abs(b.atS - arrivalS))
  if (nearest === undefined) return notClear('No sharp sound stands out from the background when the board lands.')
  const lateS = nearest.atS - arrivalS
  return notClear(
    lateS < 0
      ? `The only sharp sound comes ${ms(lateS)} ms too early to be the landing: sound and picture of this clip may be out of step.`
      : `The only sharp sound comes ${ms(lateS)} ms too late to be the landing: sound and picture of this clip may be out of step, or it is slowed more than stated.`,
  )
}

function ms(seconds: number): number {
  return Math.round(Math.abs(seconds) * 1000)
}

function notClear(why: string): BangResult {
  return notHeard('not-clear', why)
}

function notHeard(reason: WithheldReason, why: string): BangResult {
  const none = withheld(reason, why)
  return { heard: none, groundedFromSound: none, clear: false, why }
}
