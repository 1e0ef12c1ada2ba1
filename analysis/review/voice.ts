/** What somebody says rather than writes. */
export interface Voice {
  /** s; at most `VOICE_LIMITS.durationS`. */
  readonly durationS: number
  /** A whole WebM, Ogg or MP4 file as base64. */
  readonly sound: string
}

/** The most that recordings may take; letters of base64 are bytes in the file. */
export const VOICE_LIMITS = {
  durationS: 60,
  /** Of one comment. */
  letters: 900_000,
  /** Of all comments on a ride together. */
  lettersInAll: 10 * 2 ** 20,
} as const

/**
 * How files of these kinds begin, in base64: the EBML header's id 1A 45 DF A3 (RFC 8794, 11.2.1), the capture pattern
 * "OggS" (RFC 3533, 6), and a box "ftyp" of any size (ISO/IEC 14496-12, 4.3). A letter holds six bits, so that the first
 * and the last one of each may stand for several.
 */
const BEGINNINGS = [
  ['audio/webm', /^GkXfo[w-z0-9+/]/],
  ['audio/ogg', /^T2dnU[w-z0-9+/]/],
  ['audio/mp4', /^[A-Za-z0-9+/]{5}[GWm2]Z0eX[A-D]/],
] as const

export type VoiceType = (typeof BEGINNINGS)[number][0]

/**
 * Of which kind a recording is, by how it begins and not by what it says of itself.
 *
 * @param sound base64
 * @returns null for any other kind
 */
export function voiceType(sound: string): VoiceType | null {
  return BEGINNINGS.find(([, beginning]) => beginning.test(sound))?.[0] ?? null
}

/**
 * A recording in words.
 *
 * @param voice its length, s
 * @returns `voiceInWords({ durationS: 12.4 })` is "spoken, 12 s"
 */
export function voiceInWords({ durationS }: Pick<Voice, 'durationS'>): string {
  return `spoken, ${voiceSeconds(durationS)} s`
}

/** Whole seconds of a `durationS`; what is there has one at least. */
export function voiceSeconds(durationS: number): number {
  return Math.max(1, Math.round(durationS))
}
