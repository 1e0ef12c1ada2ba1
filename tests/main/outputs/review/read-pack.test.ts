import { randomUUID } from 'node:crypto'
import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import fc from 'fast-check'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { testFolder } from '../../library/things.ts'
import {
  comment,
  CRAFTED,
  type PackFile,
  refusal,
  renamed,
  saying,
  soundFiles,
  spoiltZips,
  zipped,
} from './hostile-packs.ts'

async function sentence(files: readonly PackFile[], spoil: (zip: Buffer) => Buffer = (zip) => zip) {
  const folder = await testFolder()
  const path = join(folder, 'pack.zip')
  await zipped(path, files)
  await writeFile(path, spoil(await readFile(path)))
  return refusal(path, join(folder, 'clip.mp4'))
}

describe('a pack from a stranger', () => {
  test('that is sound is opened, and scripts in names and comments are words', async () => {
    expect(await sentence(soundFiles())).toBeNull()
    expect(await sentence(saying(comment))).toBeNull()
  })

  test.each(CRAFTED)('that $what is refused with a sentence', async ({ files, names, words }) => {
    const spoil = names === null ? undefined : (zip: Buffer) => renamed(zip, names[0], names[1])
    expect(await sentence(files(), spoil)).toMatch(words)
  })

  test('of a kind that is not known yet keeps its comments', async () => {
    expect(await sentence(saying({ ...comment, kind: 'gesture', hands: 2 }))).toBeNull()
  })
})

describe('500 packs made to harm', () => {
  let sound: Buffer
  let first: string
  beforeAll(async () => {
    first = await mkdtemp(join(tmpdir(), 'packs-'))
    const path = join(first, 'sound.zip')
    await zipped(path, saying(comment))
    sound = await readFile(path)
  })
  afterAll(() => rm(first, { recursive: true }))

  test('each is opened or refused with a sentence, and nothing but the film is ever written', async () => {
    const folder = await testFolder()
    await fc.assert(
      fc.asyncProperty(spoiltZips, async (spoil) => {
        const id = randomUUID()
        const path = join(folder, `${id}.zip`)
        const clip = join(folder, `${id}.mp4`)
        await writeFile(path, spoil(sound))
        const said = await refusal(path, clip)
        if (said !== null) expect(said).toMatch(/^[A-Z].*\.$/s)
      }),
      { numRuns: 500 },
    )
    const odd = (await readdir(folder)).filter((name) => !/^[0-9a-f-]{36}\.(zip|mp4)$/.test(name))
    expect(odd).toEqual([])
  })
})
