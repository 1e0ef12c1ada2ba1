import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import fc from 'fast-check'
import { PackProblem } from '../../main/outputs/review/pack-files.ts'
import { PackStore } from '../../main/outputs/review/pack-store.ts'
import { replyIn, takenOver } from '../../main/outputs/review/review-file.ts'
import {
  comment,
  CRAFTED,
  renamed,
  saying,
  soundFiles,
  spoiltReplies,
  spoiltZips,
  zipped,
} from '../main/outputs/review/hostile-packs.ts'
import { inFolder, orHangs, type TrialResult } from './trial.ts'

const SEED = 20_261_128
const HANDLER = 'a'.repeat(16)

/**
 * Opens packs and replies that were made to harm, half as many replies as packs, in a library that holds a sound pack.
 * Each is shown or refused with a sentence; nothing is written but into the folder of a pack that was opened, and the
 * sound pack is as it was but for comments that were let in.
 */
export async function hostilePacksTrial(count: number): Promise<TrialResult> {
  return inFolder(async (folder) => {
    const faults: string[] = []
    const counts = { packs: 0, 'packs refused': 0, replies: 0, 'replies refused': 0 }
    const packs = join(folder, 'packs')
    const sent = join(folder, 'sent.zip')
    await mkdir(packs)
    await writeFile(join(folder, 'x.sh'), 'untouched')
    const store = new PackStore(() => packs)
    const noFilm = (): Promise<void> => Promise.resolve()
    await zipped(sent, soundFiles())
    const soundId = await store.open(sent, noFilm)

    /** Whether it was refused; anything but a sentence is a fault. */
    async function isRefused(what: string, work: () => Promise<unknown>): Promise<boolean> {
      try {
        await orHangs(what, work())
        return false
      } catch (error) {
        if (!(error instanceof PackProblem)) faults.push(`${what} broke the program: ${String(error)}`)
        else if (!/^[A-Z].*\.$/su.test(error.message)) faults.push(`${what} was told: ${error.message}`)
        return true
      }
    }

    async function openPack(what: string): Promise<void> {
      counts.packs++
      const before = new Set(await readdir(packs))
      let opened: string | null = null
      const refused = await isRefused(what, async () => (opened = await store.open(sent, noFilm)))
      counts['packs refused'] += Number(refused)
      const added = (await readdir(packs)).filter((name) => !before.has(name))
      if (added.some((name) => refused || name !== opened)) faults.push(`${what} left ${added.join()} behind`)
      const around = (await readdir(folder)).toSorted().join()
      if (around !== 'packs,sent.zip,x.sh') faults.push(`${what} wrote outside: ${around}`)
    }

    for (const { what, files, names } of CRAFTED) {
      await zipped(sent, files())
      if (names !== null) await writeFile(sent, renamed(await readFile(sent), ...names))
      await openPack(`a pack that ${what}`)
    }
    await zipped(sent, saying(comment))
    const sound = await readFile(sent)
    const spoils = fc.sample(spoiltZips, { numRuns: Math.max(0, count - CRAFTED.length), seed: SEED })
    for (const [k, spoil] of spoils.entries()) {
      await writeFile(sent, spoil(sound))
      await openPack(`spoilt pack ${k}`)
    }
    for (const [k, text] of fc.sample(spoiltReplies, { numRuns: Math.ceil(count / 2), seed: SEED }).entries()) {
      counts.replies++
      const refused = await isRefused(`reply ${k}`, () =>
        Promise.resolve().then(() => store.merge(soundId, takenOver(replyIn(text).items, HANDLER))),
      )
      counts['replies refused'] += Number(refused)
      if (await isRefused(`the sound pack after reply ${k}`, () => store.detail(soundId)))
        faults.push(`reply ${k} spoilt the sound pack`)
    }
    if ((await readFile(join(folder, 'x.sh'), 'utf8')) !== 'untouched') faults.push('a file beside was overwritten')
    return { name: 'hostile packs', counts, faults, skipped: null }
  })
}
