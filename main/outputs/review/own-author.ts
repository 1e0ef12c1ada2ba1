import { randomBytes } from 'node:crypto'
import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { z } from 'zod'
import type { ReviewSelf } from '../../contract/review.ts'
import { jsonText } from '../../files/json-file.ts'
import { makeFolder } from '../../files/make-folder.ts'
import { writeWholeText } from '../../files/whole-file.ts'

const FILE = 'author.json'
const shape = z.object({ authorId: z.string().regex(/^[0-9a-f]{16}$/), name: z.string().max(80) })

/** Who writes in this library: made by chance once, kept beside the packs. */
export class OwnAuthor {
  readonly #folder: () => string
  #known: ReviewSelf | null = null

  constructor(folder: () => string) {
    this.#folder = folder
  }

  async get(): Promise<ReviewSelf> {
    this.#known ??= await this.#kept()
    return this.#known
  }

  async setName(name: string): Promise<ReviewSelf> {
    return this.#keep({ ...(await this.get()), name })
  }

  async #kept(): Promise<ReviewSelf> {
    const text = await readFile(join(this.#folder(), FILE), 'utf8').catch(() => '')
    const found = shape.safeParse(parsed(text))
    return found.success ? found.data : this.#keep({ authorId: randomBytes(8).toString('hex'), name: '' })
  }

  async #keep(self: ReviewSelf): Promise<ReviewSelf> {
    await makeFolder(this.#folder())
    await writeWholeText(join(this.#folder(), FILE), jsonText(self))
    this.#known = self
    return self
  }
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return null
  }
}
