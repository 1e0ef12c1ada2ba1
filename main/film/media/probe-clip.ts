import { createHash } from 'node:crypto'
import { createReadStream } from 'node:fs'
import { basename, resolve } from 'node:path'
import { NotAFile, openRegularFile } from '../../files/regular-file.ts'
import { ClipProblem } from './clip-problem.ts'
import { HEAD_BYTES, containerFormat, soundOnly } from './container-format.ts'
import { unreadableClip } from './ffmpeg-complaint.ts'
import { guardedInputArgs, runFfmpeg } from './ffmpeg-run.ts'
import { type FrameTimes, frameTimesByDecoding, frameTimesFromPackets, packetsTellTimes } from './frame-times.ts'
import { checkClaims, readMp4Claims } from './mp4-claims.ts'
import { type PacketList, PacketListReader } from './packet-list.ts'
import type { MediaFfmpeg, ProbedClip, SoundTrack } from './probed-clip.ts'
import { type FirstPicture, firstPicture } from './first-picture.ts'
import { type StreamReport, type VideoLine, readStreamReport } from './stream-report.ts'

/**
 * Reads everything about a clip that does not need decoding it: tracks, tags, every frame's timestamp.
 * Only formats that do not list their frames' times (AVI, camcorder streams) are decoded once.
 * Throws a `ClipProblem` for everything that is not one readable video file.
 */
export async function probeClip(path: string, ffmpeg: MediaFfmpeg, signal?: AbortSignal): Promise<ProbedClip> {
  const fileName = basename(path)
  const file = { path: resolve(path), fileName }
  const input = { path: file.path, format: containerFormat(await readHead(file), fileName) }
  const contradictions = input.format === 'mov' ? await checkIndex(file) : []
  // Both read the whole file; side by side the second one finds it in memory.
  const [sha256, listing] = await Promise.all([hashOf(file, signal), listStreams(ffmpeg, input, signal)])
  const { report, packets } = listing
  const line = mainVideo(listing)
  if (line === null) throw isListed(listing) ? soundOnly(fileName) : unreadableClip(fileName, listing.complaints)
  const track = { ...input, streamIndex: line.streamIndex }
  const picture = await firstPicture(ffmpeg, track, fileName, signal)
  const listed = packets.get(line.streamIndex) ?? []
  const times = packetsTellTimes(listed, input.format, line.codec)
    ? frameTimesFromPackets(listed, picture.rawS)
    : await frameTimesByDecoding(ffmpeg, track, signal)
  if (times.rawS.length < 2) throw stillOrBroken(fileName, listing.complaints)
  const video = videoTrack(line, picture, times)
  return {
    ...file,
    sha256,
    format: input.format,
    video,
    sound: soundTrack(report, packets, video.firstRawS),
    tags: new Map([...line.tags, ...report.tags]),
    notes: [...damageNote(listing, times), ...contradictions],
  }
}

async function readHead(file: { readonly path: string; readonly fileName: string }): Promise<Uint8Array> {
  try {
    const handle = await openRegularFile(file.path)
    try {
      const { buffer, bytesRead } = await handle.read(Buffer.alloc(HEAD_BYTES), 0, HEAD_BYTES, 0)
      return buffer.subarray(0, bytesRead)
    } finally {
      await handle.close()
    }
  } catch (error) {
    if (error instanceof NotAFile) {
      throw new ClipProblem('cannot-open', `${file.fileName} is not a file: choose the clip itself.`)
    }
    throw cannotOpen(file.fileName, error)
  }
}

/** What an MP4's index claims, before any program believes it; sentences about its contradictions. */
async function checkIndex(file: { readonly path: string; readonly fileName: string }): Promise<string[]> {
  const handle = await openRegularFile(file.path)
  try {
    return checkClaims(await readMp4Claims(handle, file.fileName), (await handle.stat()).size, file.fileName)
  } finally {
    await handle.close()
  }
}

function cannotOpen(fileName: string, error: unknown): ClipProblem {
  const code = (error as NodeJS.ErrnoException).code
  const why = code === 'ENOENT' ? 'there is no such file' : code === 'EACCES' ? 'it may not be read' : String(code)
  return new ClipProblem('cannot-open', `${fileName} cannot be opened (${why}): check the path.`)
}

async function hashOf(
  file: { readonly path: string; readonly fileName: string },
  signal?: AbortSignal,
): Promise<string> {
  try {
    return await sha256Of(file.path, signal)
  } catch (error) {
    signal?.throwIfAborted()
    throw cannotOpen(file.fileName, error)
  }
}

/** The hash by which a clip is known again, whatever its name. */
export async function sha256Of(path: string, signal?: AbortSignal): Promise<string> {
  const hash = createHash('sha256')
  for await (const chunk of createReadStream(path, { highWaterMark: 1 << 20, signal })) hash.update(chunk as Buffer)
  return hash.digest('hex')
}

interface Listing {
  readonly report: StreamReport
  readonly packets: PacketList
  readonly complaints: readonly string[]
  readonly isDamaged: boolean
}

/** What ffmpeg says, by container, when a file holds less than it should. */
const SIGNS_OF_DAMAGE = /partial file|File ended prematurely|Read error|corrupt input packet|Truncating packet/

type Input = Parameters<typeof guardedInputArgs>[0]

/** Lists all packets of the video tracks (not of cover pictures) and of the first sound track, without decoding. */
async function listStreams(ffmpeg: MediaFfmpeg, input: Input, signal?: AbortSignal): Promise<Listing> {
  const both = await listPackets(ffmpeg, input, ['-map', '0:V?', '-map', '0:a:0?'], signal)
  if (isListed(both) || both.report.videos.length === 0) return both
  // A sound track in a codec that this ffmpeg does not know must not hide the pictures.
  return listPackets(ffmpeg, input, ['-map', '0:V'], signal)
}

function isListed({ packets }: Listing): boolean {
  return [...packets.values()].some((list) => list.length > 0)
}

async function listPackets(
  ffmpeg: MediaFfmpeg,
  input: Input,
  maps: readonly string[],
  signal?: AbortSignal,
): Promise<Listing> {
  const log: string[] = []
  const reader = new PacketListReader()
  let rest = ''
  const args = [...guardedInputArgs(input), ...maps, '-c', 'copy', '-copyinkf', '-f', 'framecrc', 'pipe:1']
  const end = await runFfmpeg(ffmpeg.ffmpegPath, args, {
    line: (line) => log.push(line),
    output: (chunk) => {
      const lines = (rest + chunk.toString('latin1')).split('\n')
      rest = lines.pop() ?? ''
      for (const line of lines) reader.readLine(line)
    },
    signal,
  })
  if (end.problem !== null) throw end.problem
  return {
    report: readStreamReport(log),
    packets: reader.byInputStream(log),
    complaints: end.complaints,
    isDamaged: log.some((line) => SIGNS_OF_DAMAGE.test(line)),
  }
}

/** The track that a player would show: marked as default, or else the largest. */
function mainVideo({ report, packets }: Listing): VideoLine | null {
  const listed = report.videos.filter(({ streamIndex }) => (packets.get(streamIndex) ?? []).length > 0)
  return listed.sort((a, b) => Number(b.isDefault) - Number(a.isDefault) || b.areaPx - a.areaPx)[0] ?? null
}

function stillOrBroken(fileName: string, complaints: readonly string[]): ClipProblem {
  if (complaints.length > 0) return unreadableClip(fileName, complaints)
  return new ClipProblem('still-picture', `${fileName} holds a single picture, not a video: choose the clip itself.`)
}

function videoTrack(line: VideoLine, picture: FirstPicture, times: FrameTimes): ProbedClip['video'] {
  const firstRawS = times.rawS[0] ?? 0
  const spanS = (times.rawS.at(-1) ?? 0) - firstRawS
  return {
    widthPx: picture.widthPx,
    heightPx: picture.heightPx,
    isSquare: picture.isSquare,
    isFullRange: picture.isFullRange,
    rotationDeg: line.rotationDeg,
    codec: line.codec,
    pixelFormat: picture.pixelFormat,
    bitDepth: picture.bitDepth,
    fileTimesS: times.rawS.map((rawS) => rawS - firstRawS),
    isKeyFrame: times.isKeyFrame,
    fileDurationS: spanS + times.lastFrameS,
    averageRateHz: (times.rawS.length - 1) / spanS,
    statedRateHz: line.statedRateHz,
    streamIndex: line.streamIndex,
    firstRawS,
  }
}

function soundTrack(report: StreamReport, packets: PacketList, firstRawS: number): SoundTrack | null {
  const sound = report.sounds[0]
  const listed = sound === undefined ? [] : (packets.get(sound.streamIndex) ?? []).filter((p) => p.rawS === p.rawS)
  const first = listed[0]
  const last = listed.at(-1)
  if (sound === undefined || first === undefined || last === undefined) return null
  return {
    ...sound,
    startFileS: first.rawS - firstRawS,
    fileDurationS: last.rawS + last.durationS - first.rawS,
  }
}

/** A sentence when ffmpeg met the end of the file, or nonsense in it, before the container's own end. */
function damageNote(listing: Listing, times: FrameTimes): string[] {
  if (!listing.isDamaged) return []
  const thereS = (times.rawS.at(-1) ?? 0) + times.lastFrameS - (times.rawS[0] ?? 0)
  const statedS = listing.report.statedDurationS
  const isShort = statedS !== null && thereS < statedS - 0.2
  const howMuch = isShort ? `: ${thereS.toFixed(1)} of ${statedS.toFixed(1)} s are there` : ''
  return [`The file is damaged or cut short, and a part of it is missing${howMuch}.`]
}
