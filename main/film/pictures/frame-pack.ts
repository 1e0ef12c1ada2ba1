import { type FileHandle, mkdir, open, readFile, rename, rm, stat, utimes } from 'node:fs/promises'
import { join } from 'node:path'
import { z } from 'zod'
import { jsonText } from '../../files/json-file.ts'
import { writeWholeText } from '../../files/whole-file.ts'
import type { FrameJpeg } from './frame-jpegs.ts'

const SCHEMA = 'tiphold.pictures/1'
const contents = z.object({
  schema: z.literal(SCHEMA),
  sha256: z.string(),
  /** Where each frame's JPEG begins in the data file and how long it is, byte; length 0: not in it. */
  offsets: z.array(z.number().int().min(0)),
  lengths: z.array(z.number().int().min(0)),
})
type Contents = z.infer<typeof contents>

const DATA = 'frames.jpegs'
const INDEX = 'frames.json'
const PART = 'frames.part'

/** The prepared pictures of one clip: all JPEGs in one file, and where each of them lies in it. */
export class FramePack {
  readonly #folder: string
  readonly #contents: Contents

  private constructor(folder: string, held: Contents) {
    this.#folder = folder
    this.#contents = held
  }

  /** Opens what was prepared for a clip; null when there is nothing, or something of another content. */
  static async open(folder: string, sha256: string): Promise<FramePack | null> {
    try {
      const held = contents.safeParse(JSON.parse(await readFile(join(folder, INDEX), 'utf8')))
      if (!held.success || held.data.sha256 !== sha256) return null
      // When it was last used decides what goes first when room is short.
      const now = new Date()
      await utimes(join(folder, INDEX), now, now)
      return new FramePack(folder, held.data)
    } catch {
      return null
    }
  }

  get sha256(): string {
    return this.#contents.sha256
  }

  /** False once the pack has been thrown away. */
  async isThere(): Promise<boolean> {
    return (await stat(join(this.#folder, DATA)).catch(() => null)) !== null
  }

  /** One frame's JPEG; null when it is not in the pack, or the pack has been thrown away. */
  async read(index: number): Promise<Buffer | null> {
    const length = this.#contents.lengths[index] ?? 0
    if (length === 0) return null
    const file = await open(join(this.#folder, DATA), 'r').catch(() => null)
    if (file === null) return null
    try {
      return await readWhole(file, this.#contents.offsets[index] ?? 0, length)
    } finally {
      await file.close()
    }
  }
}

/** A pack while it is being written. What is written can be read at once; it becomes a `FramePack` when finished. */
export class FramePackWriter {
  readonly #folder: string
  readonly #file: FileHandle
  readonly #sha256: string
  readonly #offsets: Float64Array
  readonly #lengths: Float64Array
  #bytes = 0

  private constructor(folder: string, file: FileHandle, sha256: string, frameCount: number) {
    this.#folder = folder
    this.#file = file
    this.#sha256 = sha256
    this.#offsets = new Float64Array(frameCount)
    this.#lengths = new Float64Array(frameCount)
  }

  static async begin(folder: string, sha256: string, frameCount: number): Promise<FramePackWriter> {
    await mkdir(folder, { recursive: true })
    return new FramePackWriter(folder, await open(join(folder, PART), 'w+'), sha256, frameCount)
  }

  get bytes(): number {
    return this.#bytes
  }

  async add({ index, jpeg }: FrameJpeg): Promise<void> {
    await this.#file.write(jpeg, 0, jpeg.length, this.#bytes)
    this.#offsets[index] = this.#bytes
    this.#lengths[index] = jpeg.length
    this.#bytes += jpeg.length
  }

  async read(index: number): Promise<Buffer | null> {
    const length = this.#lengths[index] ?? 0
    if (length === 0) return null
    // Once it is finished or discarded the file is closed: the picture is to be had elsewhere then.
    return readWhole(this.#file, this.#offsets[index] ?? 0, length).catch(() => null)
  }

  /** The index is written last: a pack without one does not exist. */
  async finish(): Promise<void> {
    await this.#file.close()
    await rm(join(this.#folder, INDEX), { force: true })
    await rename(join(this.#folder, PART), join(this.#folder, DATA))
    const held: Contents = {
      schema: SCHEMA,
      sha256: this.#sha256,
      offsets: [...this.#offsets],
      lengths: [...this.#lengths],
    }
    await writeWholeText(join(this.#folder, INDEX), jsonText(held))
  }

  async discard(): Promise<void> {
    await this.#file.close()
    await rm(join(this.#folder, PART), { force: true })
  }
}

/** A JPEG from a file; null when what lies there is none, as after a power cut. */
async function readWhole(file: FileHandle, offset: number, length: number): Promise<Buffer | null> {
  const { buffer, bytesRead } = await file.read(Buffer.allocUnsafe(length), 0, length, offset)
  const isJpeg = bytesRead === length && buffer.readUInt16BE(0) === 0xffd8 && buffer.readUInt16BE(length - 2) === 0xffd9
  return isJpeg ? buffer : null
}
