import { open, readdir, readFile, rm, type FileHandle } from 'node:fs/promises'
import { join } from 'node:path'
import { flush } from '../files/whole-file.ts'
import { isId, isMissing, type Touched } from './kept-files.ts'
import { KINDS } from './kinds.ts'

/**
 * Names, before each change, the thing that is about to change: after a kill the index is believed for all things but
 * these. It belongs to the index of its generation.
 */
export class Journal {
  readonly #folder: string
  readonly #generation: number
  readonly #noted: Set<string>
  #file: FileHandle | null = null

  constructor(folder: string, generation: number, noted: readonly Touched[]) {
    this.#folder = folder
    this.#generation = generation
    this.#noted = new Set(noted.map(lineOf))
  }

  get size(): number {
    return this.#noted.size
  }

  /** On the disk when the promise is fulfilled. */
  async note(touched: Touched): Promise<void> {
    const line = lineOf(touched)
    if (this.#noted.has(line)) return
    if (this.#file === null) {
      this.#file = await open(join(this.#folder, nameOf(this.#generation)), 'a')
      await flush(this.#folder, 'r')
    }
    // The first end of line ends one that a killed program or a full disk left half written.
    await this.#file.appendFile(`\n${line}`)
    await this.#file.datasync()
    this.#noted.add(line)
  }

  async close(): Promise<void> {
    await this.#file?.close()
    this.#file = null
  }

  /** Once a newer index holds everything. */
  async remove(): Promise<void> {
    await this.close()
    await rm(join(this.#folder, nameOf(this.#generation)), { force: true })
  }
}

/** What changed since the index of this generation. A last line that was cut off is of a change that never began. */
export async function readJournal(folder: string, generation: number): Promise<Touched[]> {
  let text: string
  try {
    text = await readFile(join(folder, nameOf(generation)), 'utf8')
  } catch (error) {
    if (isMissing(error)) return []
    throw error
  }
  const lines = new Set(text.split('\n').slice(0, -1))
  return [...lines].map(touchedOf).filter((touched) => touched !== null)
}

/** Generations of all journals in the folder. */
export async function journalsIn(folder: string): Promise<number[]> {
  const found = (await readdir(folder)).map((name) => /^changes-(\d+)\.log$/.exec(name)?.[1])
  return found.filter((digits) => digits !== undefined).map(Number)
}

export async function removeJournal(folder: string, generation: number): Promise<void> {
  await rm(join(folder, nameOf(generation)), { force: true })
}

function nameOf(generation: number): string {
  return `changes-${generation}.log`
}

function lineOf({ kind, id }: Touched): string {
  return `${kind} ${id}\n`
}

function touchedOf(line: string): Touched | null {
  const [word = '', id = ''] = line.split(' ')
  const kind = KINDS.find((one) => one === word)
  return kind === undefined || !isId(id) ? null : { kind, id }
}
