import { ClipProblem } from './clip-problem.ts'

/** ffmpeg's names of the containers that we read. */
export type ContainerFormat = 'mov' | 'matroska' | 'avi' | 'mpegts' | 'mpeg'

/** How many bytes of a file's start `containerFormat` wants to see. */
export const HEAD_BYTES = 1024

/**
 * Which container a file is, by its first bytes, never by its name: ffmpeg is then told to read this format only, so a
 * playlist in disguise is not followed. Throws a `ClipProblem` for everything that is not a single video file.
 */
export function containerFormat(head: Uint8Array, fileName: string): ContainerFormat {
  if (head.length === 0) throw new ClipProblem('empty', `${fileName} is empty (0 bytes): copy it from the phone again.`)
  const at4 = ascii(head, 4, 8)
  if (at4 === 'ftyp') {
    if (STILL_BRANDS.has(ascii(head, 8, 12))) throw stillPicture(fileName)
    return 'mov'
  }
  if (MOV_ATOMS.has(at4)) return 'mov'
  if (startsWith(head, [0x1a, 0x45, 0xdf, 0xa3])) return 'matroska'
  if (ascii(head, 0, 4) === 'RIFF') {
    const kind = ascii(head, 8, 12)
    if (kind === 'AVI ' || kind === 'AVIX') return 'avi'
    if (kind === 'WEBP') throw stillPicture(fileName)
    if (kind === 'WAVE') throw soundOnly(fileName)
  }
  if (isTransportStream(head)) return 'mpegts'
  if (startsWith(head, [0, 0, 1, 0xba])) return 'mpeg'
  if (PICTURE_STARTS.some((start) => startsWith(head, start))) throw stillPicture(fileName)
  if (SOUND_STARTS.some((start) => startsWith(head, start))) throw soundOnly(fileName)
  if (looksLikeText(head)) throw textProblem(head, fileName)
  if (head.every((byte) => byte === 0)) {
    throw new ClipProblem('damaged', `${fileName} begins with nothing but zeros, so the copy failed: copy it again.`)
  }
  throw new ClipProblem(
    'not-a-video',
    `${fileName} is not a video file that can be read: use MP4, MOV, MKV, WebM or AVI, as the phone stores it.`,
  )
}

export function soundOnly(fileName: string): ClipProblem {
  return new ClipProblem('sound-only', `${fileName} holds sound but no video: choose the clip itself.`)
}

function stillPicture(fileName: string): ClipProblem {
  return new ClipProblem('still-picture', `${fileName} is a still picture, not a video: choose the clip itself.`)
}

function textProblem(head: Uint8Array, fileName: string): ClipProblem {
  const text = ascii(head, 0, head.length).replace(/^\xef\xbb\xbf/, '')
  if (PLAYLIST_STARTS.test(text)) {
    return new ClipProblem(
      'points-elsewhere',
      `${fileName} is a playlist that points to other files: choose the video file itself.`,
    )
  }
  return new ClipProblem('not-a-video', `${fileName} is a text file, not a video: choose the video file itself.`)
}

/** First boxes of MP4 and MOV files; old QuickTime files have no `ftyp`. */
const MOV_ATOMS = new Set(['moov', 'mdat', 'wide', 'free', 'skip', 'pnot', 'styp', 'moof'])
const STILL_BRANDS = new Set(['heic', 'heix', 'heim', 'heis', 'mif1', 'avif', 'jxl ', 'crx '])
const PICTURE_STARTS = [
  [0xff, 0xd8, 0xff],
  [0x89, 0x50, 0x4e, 0x47],
  [0x47, 0x49, 0x46, 0x38],
  [0x42, 0x4d],
  [0x49, 0x49, 0x2a, 0x00],
  [0x4d, 0x4d, 0x00, 0x2a],
]
/** MP3 with or without tag, FLAC, AMR; Ogg is refused too, since phones use it for sound. */
const SOUND_STARTS = [
  [0x49, 0x44, 0x33],
  [0xff, 0xfb],
  [0x66, 0x4c, 0x61, 0x43],
  [0x23, 0x21, 0x41, 0x4d, 0x52],
  [0x4f, 0x67, 0x67, 0x53],
]
const PLAYLIST_STARTS =
  /^\s*(#EXTM3U|ffconcat|file\s|v=0|<\?xml|<MPD|<smil|<asx|\[playlist\]|\[reference\]|https?:|RTSPtext)/i

/** Sync bytes 0x47 every 188 bytes, or every 192 with a leading time code (camcorders). */
function isTransportStream(head: Uint8Array): boolean {
  const syncs = (first: number, step: number) => [0, 1, 2].every((k) => head[first + k * step] === 0x47)
  return syncs(0, 188) || syncs(4, 192)
}

function looksLikeText(head: Uint8Array): boolean {
  return head.every((byte) => byte >= 0x20 || byte === 0x09 || byte === 0x0a || byte === 0x0d)
}

function startsWith(head: Uint8Array, bytes: readonly number[]): boolean {
  return bytes.every((byte, i) => head[i] === byte)
}

function ascii(head: Uint8Array, from: number, to: number): string {
  return String.fromCharCode(...head.subarray(from, to))
}
