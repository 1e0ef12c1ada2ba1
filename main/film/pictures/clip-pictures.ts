import { mkdir, readFile, rm, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { PicturesState } from '../../contract/clips.ts'
import type { PictureSize } from '../../contract/picture-paths.ts'
import { problem, success, type Outcome } from '../../contract/outcome.ts'
import { chooseFfmpeg, NoFfmpegError } from '../engines/ffmpeg-choice.ts'
import { writeWhole } from '../../files/whole-file.ts'
import { ClipProblem } from '../media/clip-problem.ts'
import type { ProbedClip } from '../media/probed-clip.ts'
import { groupsToDecodeTogether } from '../media/read-stills.ts'
import type { Pictures } from './pictures.ts'
import { frameJpegs, type FrameJpeg, type JpegLook } from './frame-jpegs.ts'
import { FramePack, FramePackWriter } from './frame-pack.ts'
import { MadeOnDemand } from './made-on-demand.ts'
import { makeRoom, sweepUnfinished } from './pictures-room.ts'
import { preparePack, type FrameRange } from './prepare-pack.ts'

/** What pictures are made from. */
export interface PictureSource {
  /** Reads what the clip's file is, or says why it cannot. */
  open(clipId: string, signal: AbortSignal): Promise<Outcome<ProbedClip>>
  /** The stretch that the handler chose, which is prepared first. */
  stretchOf(clipId: string): FrameRange | null
}

export interface PicturesLimits {
  /** All prepared pictures together, byte. */
  readonly mostBytes: number
  /** Those of one clip; frames beyond it come slowly. */
  readonly mostBytesAClip: number
}

const LIMITS: PicturesLimits = { mostBytes: 4e9, mostBytesAClip: 1.5e9 }
const LOOKS: Readonly<Record<PictureSize, JpegLook>> = {
  frame: { longestPx: 1280, coarseness: 4 },
  full: { longestPx: Infinity, coarseness: 2 },
  small: { longestPx: 160, coarseness: 5 },
}
/** Frames made around one that is not prepared, so that the next steps find theirs. */
const BEFORE = 6
const AFTER = 18
/** Opened packs that stay in memory; each is a few numbers a frame. */
const OPEN_PACKS = 6
/** How often progress is told, ms. */
const TELL_EVERY_MS = 250

interface Preparing {
  readonly clipId: string
  readonly stop: AbortController
  writer: FramePackWriter | null
  framesDone: number
  framesTotal: number
  /** Fulfilled once nothing of it runs any more: whether it was done. */
  over: Promise<boolean>
}

/**
 * The pictures of all clips. Those for stepping are prepared into one file a clip, so that a step is one read; others
 * are decoded when they are asked for.
 */
export class ClipPictures implements Pictures {
  readonly #picturesFolder: () => string
  readonly #source: PictureSource
  readonly #onProgress: (clipId: string, framesDone: number, framesTotal: number) => void
  readonly #limits: PicturesLimits
  readonly #packs = new Map<string, FramePack>()
  readonly #frames: MadeOnDemand
  readonly #full: MadeOnDemand
  readonly #small: MadeOnDemand
  /** Clips to prepare, the next one last. */
  #waiting: string[] = []
  #preparing: Preparing | null = null
  #work: Promise<void> = Promise.resolve()
  #isWorking = false
  #isClosed = false
  readonly #swept: Promise<void>

  /** @param picturesFolder asked each time, since the library may move */
  constructor(
    picturesFolder: () => string,
    source: PictureSource,
    onProgress: (clipId: string, framesDone: number, framesTotal: number) => void,
    limits: PicturesLimits = LIMITS,
  ) {
    this.#picturesFolder = picturesFolder
    this.#source = source
    this.#onProgress = onProgress
    this.#limits = limits
    const make = (look: JpegLook) => (clipId: string, indices: readonly number[], signal: AbortSignal) =>
      this.#make(clipId, indices, look, signal)
    this.#frames = new MadeOnDemand(make(LOOKS.frame), (_, newest) => fromTo(newest - BEFORE, newest + AFTER), 120)
    this.#full = new MadeOnDemand(make(LOOKS.full), (_, newest) => [newest], 12)
    this.#small = new MadeOnDemand(make(LOOKS.small), (_, __, wanted) => [...wanted], 600)
    this.#swept = sweepUnfinished(picturesFolder())
  }

  async jpeg(clipId: string, size: PictureSize, index: number, signal: AbortSignal): Promise<Outcome<Uint8Array>> {
    try {
      const jpeg = await this.#jpeg(clipId, size, index, signal)
      return jpeg === null
        ? problem('unreadable', `Frame ${index} cannot be read: the clip is damaged there.`)
        : success(jpeg)
    } catch (error) {
      if (signal.aborted) return problem('failed', 'The picture is no longer wanted.')
      return pictureProblem(error)
    }
  }

  get #folder(): string {
    return this.#picturesFolder()
  }

  /** Begins to prepare a clip's pictures; a newer wish goes before older ones. */
  prepare(clipId: string): void {
    if (this.#isClosed || this.#preparing?.clipId === clipId) return
    this.#waiting = [...this.#waiting.filter((id) => id !== clipId), clipId]
    if (!this.#isWorking) this.#work = this.#prepareWaiting()
    else if (this.#preparing !== null) {
      this.#waiting.unshift(this.#preparing.clipId)
      this.#preparing.stop.abort()
    }
  }

  /** How far a clip's pictures are. */
  async state(clipId: string, sha256: string): Promise<PicturesState> {
    if (this.#preparing?.clipId === clipId) {
      const { framesDone, framesTotal } = this.#preparing
      return { kind: 'preparing', framesDone, framesTotal }
    }
    return (await this.#pack(clipId, sha256)) === null ? { kind: 'none' } : { kind: 'ready' }
  }

  /** Throws a clip's pictures away. */
  async forget(clipId: string): Promise<void> {
    this.#waiting = this.#waiting.filter((id) => id !== clipId)
    const preparing = this.#preparing
    if (preparing?.clipId === clipId) {
      preparing.stop.abort()
      await preparing.over
    }
    for (const made of [this.#frames, this.#full, this.#small]) made.forget(clipId)
    this.#packs.delete(clipId)
    await rm(join(this.#folder, clipId), { recursive: true, force: true })
  }

  /** Stops what is being prepared; nothing half-done is left. */
  async close(): Promise<void> {
    this.#isClosed = true
    this.#waiting = []
    this.#preparing?.stop.abort()
    await this.#work
  }

  async #jpeg(clipId: string, size: PictureSize, index: number, signal: AbortSignal): Promise<Buffer | null> {
    if (size === 'full') {
      await this.#checked(clipId, index, signal)
      return this.#full.get(clipId, index, signal)
    }
    if (size === 'small') {
      const kept = await readFile(this.#smallPath(clipId, index)).catch(() => null)
      if (kept !== null) return kept
      await this.#checked(clipId, index, signal)
      return this.#small.get(clipId, index, signal)
    }
    const written = this.#preparing?.clipId === clipId ? await this.#preparing.writer?.read(index) : null
    if (written != null) return written
    const prepared = await this.#packs.get(clipId)?.read(index)
    if (prepared != null) return prepared
    const clip = await this.#checked(clipId, index, signal)
    const read = await (await this.#pack(clipId, clip.sha256))?.read(index)
    return read ?? this.#frames.get(clipId, index, signal)
  }

  async #checked(clipId: string, index: number, signal: AbortSignal): Promise<ProbedClip> {
    const clip = await this.#opened(clipId, signal)
    const count = clip.video.fileTimesS.length
    if (index < count) return clip
    throw new PictureProblem(
      problem('not-found', `The clip has ${count} frames, numbered from 0: there is no ${index}.`),
    )
  }

  async #opened(clipId: string, signal: AbortSignal): Promise<ProbedClip> {
    const opened = await this.#source.open(clipId, signal)
    if (!opened.ok) throw new PictureProblem(opened)
    return opened.value
  }

  async *#make(
    clipId: string,
    indices: readonly number[],
    look: JpegLook,
    signal: AbortSignal,
  ): AsyncGenerator<FrameJpeg, void, void> {
    const clip = await this.#opened(clipId, signal)
    const ffmpeg = await chooseFfmpeg()
    const there = indices.filter((index) => index >= 0 && index < clip.video.fileTimesS.length)
    for (const group of groupsToDecodeTogether(clip, there)) {
      for await (const frame of frameJpegs(clip, ffmpeg, { kind: 'picked', indices: group }, look, signal)) {
        if (look === LOOKS.small) await this.#keepSmall(clipId, frame)
        yield frame
      }
    }
  }

  async #pack(clipId: string, sha256: string): Promise<FramePack | null> {
    const open = this.#packs.get(clipId)
    if (open !== undefined && open.sha256 === sha256 && (await open.isThere())) return open
    this.#packs.delete(clipId)
    await this.#swept
    const pack = await FramePack.open(join(this.#folder, clipId), sha256)
    if (pack === null) return null
    this.#packs.set(clipId, pack)
    for (const oldest of this.#packs.keys()) {
      if (this.#packs.size <= OPEN_PACKS) break
      this.#packs.delete(oldest)
    }
    return pack
  }

  async #prepareWaiting(): Promise<void> {
    this.#isWorking = true
    await this.#swept
    for (let clipId = this.#waiting.pop(); clipId !== undefined; clipId = this.#waiting.pop()) {
      const preparing: Preparing = {
        clipId,
        stop: new AbortController(),
        writer: null,
        framesDone: 0,
        framesTotal: 0,
        over: Promise.resolve(false),
      }
      this.#preparing = preparing
      // What goes wrong here goes wrong again, with its sentence, when a single picture is asked for.
      preparing.over = this.#prepareOne(preparing).then(
        () => true,
        () => false,
      )
      const isDone = await preparing.over
      this.#preparing = null
      if (isDone) this.#onProgress(clipId, preparing.framesTotal, preparing.framesTotal)
    }
    this.#isWorking = false
  }

  async #prepareOne(preparing: Preparing): Promise<void> {
    const { clipId, stop } = preparing
    const clip = await this.#opened(clipId, stop.signal)
    const framesTotal = clip.video.fileTimesS.length
    preparing.framesTotal = framesTotal
    if ((await this.#pack(clipId, clip.sha256)) === null) {
      const ffmpeg = await chooseFfmpeg()
      await makeRoom(this.#folder, this.#limits.mostBytes - this.#limits.mostBytesAClip, clipId)
      const writer = await FramePackWriter.begin(join(this.#folder, clipId), clip.sha256, framesTotal)
      preparing.writer = writer
      try {
        let toldMs = 0
        const plan = {
          stretch: this.#source.stretchOf(clipId),
          look: LOOKS.frame,
          mostBytes: this.#limits.mostBytesAClip,
        }
        await preparePack(clip, ffmpeg, writer, plan, stop.signal, (framesDone) => {
          preparing.framesDone = framesDone
          if (performance.now() - toldMs < TELL_EVERY_MS || framesDone === framesTotal) return
          toldMs = performance.now()
          this.#onProgress(clipId, framesDone, framesTotal)
        })
        await writer.finish()
      } catch (error) {
        await writer.discard()
        throw error
      } finally {
        preparing.writer = null
      }
    }
  }

  #smallPath(clipId: string, index: number): string {
    return join(this.#folder, clipId, 'small', `${index}.jpg`)
  }

  /** Small pictures outlive the program: lists show them at every start. */
  async #keepSmall(clipId: string, { index, jpeg }: FrameJpeg): Promise<void> {
    const path = this.#smallPath(clipId, index)
    await mkdir(join(this.#folder, clipId, 'small'), { recursive: true })
    await writeWhole(path, (part) => writeFile(part, jpeg))
  }
}

/** A problem on its way out of here. */
class PictureProblem extends Error {
  readonly outcome: Outcome<never>
  constructor(outcome: Outcome<never>) {
    super('no picture')
    this.outcome = outcome
  }
}

function pictureProblem(error: unknown): Outcome<never> {
  if (error instanceof PictureProblem) return error.outcome
  if (error instanceof ClipProblem || error instanceof NoFfmpegError) return problem('unreadable', error.message)
  throw error
}

function fromTo(first: number, last: number): number[] {
  return Array.from({ length: last - first + 1 }, (_, i) => first + i)
}
