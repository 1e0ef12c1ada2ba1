import { randomBytes } from 'node:crypto'
import { readFileSync } from 'node:fs'
import { mkdir, readdir, readFile, rm, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { promisify } from 'node:util'
import { gunzip, gunzipSync, gzip } from 'node:zlib'
import { jsonText } from '../files/json-file.ts'
import { flush, writeWhole, writeWholeText } from '../files/whole-file.ts'
import { cardFault } from './card-shapes.ts'
import { type Kind } from './kinds.ts'
import type { Upgrade } from './migrations.ts'

/** One thing of each kind, as people call it. */
export const KIND_WORDS = {
  dogs: 'dog',
  boards: 'board',
  clips: 'clip',
  rides: 'ride',
  noted: 'ride',
  packs: 'pack',
} as const

/** A card that cannot be read or is not as it must be. */
export class Damaged {
  /** "addedAt: expected number" */
  readonly why: string
  constructor(why: string) {
    this.why = why
  }
}

/** Names one thing of a library. */
export interface Touched {
  readonly kind: Kind
  readonly id: string
}

/** One thing as its card file holds it. What is too big for a card lies in a part file beside it. */
export interface Kept<Card> {
  /** Of which format of the library this card is. */
  readonly format: number
  /** ms since 1970; no two things of a library have the same. */
  readonly addedAt: number
  /** File name of the part; null for things without one. */
  readonly part: string | null
  readonly card: Card
}

/** Folders of a library beside those of its things. */
export const PICTURES = 'pictures'
export const CLIP_FILES = 'clip-files'
/** Packs that others sent, a folder each. */
export const PACKS = 'packs'

export const CARD = 'card.json'
/** All cards of a library in one file; see `IndexFile`. */
export const INDEX_FILE = 'index.json'

/** Only ids like these reach the file system: no dots, no slashes, nothing that some system spells otherwise. */
export function isId(id: string): boolean {
  return /^[a-z0-9](?:[a-z0-9-]{0,62}[a-z0-9])?$/.test(id)
}

/** Where the library lies; changes when it is moved. */
export interface Place {
  readonly folder: string
}

/**
 * The files of all things of one kind: `KIND/ID/card.json` and, named in it, the part. The card is written last and in
 * one step: a thing is either kept whole, or as it was before.
 */
export class KeptFiles<Card extends { readonly id: string }> {
  readonly kind: Kind
  readonly #place: Place
  readonly #format: number
  readonly #upgradePart: Upgrade

  /** @param upgradePart brings a part of an older format up to `format` */
  constructor(kind: Kind, place: Place, format: number, upgradePart: Upgrade) {
    this.kind = kind
    this.#place = place
    this.#format = format
    this.#upgradePart = upgradePart
  }

  /** Ids of all folders, finished or not. */
  async ids(): Promise<string[]> {
    const entries = await readdir(this.#kindFolder(), { withFileTypes: true }).catch(noEntries)
    return entries.filter((entry) => entry.isDirectory() && isId(entry.name)).map((entry) => entry.name)
  }

  /** What is kept; `null` where nothing is. */
  read(id: string): Promise<Kept<Card> | null | Damaged> {
    return this.readIn(this.#folder(id), id)
  }

  /** The same of a thing whose folder lies elsewhere. */
  async readIn(folder: string, id: string): Promise<Kept<Card> | null | Damaged> {
    let value: unknown
    try {
      value = JSON.parse(await readFile(join(folder, CARD), 'utf8'))
    } catch (error) {
      if (isMissing(error)) return null
      return new Damaged(error instanceof Error ? error.message : String(error))
    }
    const fault = cardFault(this.kind, value)
    if (fault !== null) return new Damaged(fault)
    const kept = value as Kept<Card>
    if (kept.format !== this.#format) return new Damaged(`format: it is ${kept.format}, not ${this.#format}`)
    return kept.card.id === id ? kept : new Damaged(`id: it is that of another thing, ${kept.card.id}`)
  }

  /** Writes a thing; on the disk when the promise is fulfilled. A new `part` replaces the one before. */
  async write(card: Card, addedAt: number, before: Kept<Card> | null, part: object | null): Promise<Kept<Card>> {
    const folder = this.#folder(card.id)
    const isNew = (await mkdir(folder, { recursive: true })) !== undefined
    if (isNew) await flush(this.#kindFolder(), 'r')
    let partName = before?.part ?? null
    if (part !== null) {
      partName = `part-${randomBytes(4).toString('hex')}.json.gz`
      const packed = await promisify(gzip)(jsonText({ format: this.#format, part }), { level: 5 })
      await writeWhole(join(folder, partName), (path) => writeFile(path, packed))
    }
    const kept: Kept<Card> = { format: this.#format, addedAt, part: partName, card }
    await writeWholeText(join(folder, CARD), jsonText(kept))
    if (before !== null && before.part !== null && before.part !== partName)
      await rm(join(folder, before.part), { force: true }).catch(() => undefined)
    return kept
  }

  async readPart(id: string, part: string): Promise<unknown> {
    return this.#unpacked((await promisify(gunzip)(await readFile(this.#partPath(id, part)))).toString('utf8'))
  }

  readPartNow(id: string, part: string): unknown {
    return this.#unpacked(gunzipSync(readFileSync(this.#partPath(id, part))).toString('utf8'))
  }

  /** Removes what a killed program has left beside a thing's own files, or of a thing that was never finished. */
  async tidy(id: string, kept: Kept<Card> | null): Promise<void> {
    const folder = this.#folder(id)
    if (kept === null) return rm(folder, { recursive: true, force: true })
    for (const { name } of await readdir(folder, { withFileTypes: true }).catch(noEntries)) {
      if (name !== CARD && name !== kept.part) await rm(join(folder, name), { recursive: true, force: true })
    }
  }

  #unpacked(text: string): unknown {
    const { format, part } = JSON.parse(text) as { readonly format: number; readonly part: unknown }
    return this.#upgradePart(part, format)
  }

  #partPath(id: string, part: string): string {
    if (!/^part-[0-9a-f]+\.json\.gz$/.test(part)) throw new Error(`${part}: not the name of a part`)
    return join(this.#folder(id), part)
  }

  #kindFolder(): string {
    return join(this.#place.folder, this.kind)
  }

  #folder(id: string): string {
    if (!isId(id)) throw new Error(`${JSON.stringify(id)} cannot be the id of a kept thing`)
    return join(this.#kindFolder(), id)
  }
}

export function isMissing(error: unknown): boolean {
  return error instanceof Error && 'code' in error && error.code === 'ENOENT'
}

/** For a folder that may not be there: nothing in it. */
export function noEntries(error: unknown): never[] {
  if (isMissing(error)) return []
  throw error
}
