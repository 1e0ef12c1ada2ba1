import { randomUUID } from 'node:crypto'
import { readdir } from 'node:fs/promises'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import type { ReviewItem } from '../../../../analysis/review/review-item.ts'
import { restoreBackup } from '../../../../main/library/backup.ts'
import type { OpenLibrary } from '../../../../main/library/open-library.ts'
import { PackStore } from '../../../../main/outputs/review/pack-store.ts'
import { binServices } from '../../../../main/services/bin-services.ts'
import { testFolder, testLibrary } from '../../library/things.ts'
import { describedAs, soundFiles, zipped } from './hostile-packs.ts'

const comment: ReviewItem = {
  id: `${'b'.repeat(16)}.${'0'.repeat(12)}`,
  author: { id: 'b'.repeat(16), name: 'Cora' },
  version: 1,
  madeAt: '2026-05-14T18:00:00.000Z',
  isRemoved: false,
  kind: 'comment',
  atS: 1,
  toS: null,
  text: 'Drives well up to here',
  strokes: [],
}

const storeOf = (library: OpenLibrary): PackStore => new PackStore(() => join(library.folder, 'packs'))

/** A library in which somebody's pack was opened, filed and spoken of. */
async function withPack(now?: () => number): Promise<{ readonly library: OpenLibrary; readonly packId: string }> {
  const library = await testLibrary(undefined, now === undefined ? {} : { now })
  const path = join(await testFolder(), `${randomUUID()}.zip`)
  await zipped(path, soundFiles())
  const store = storeOf(library)
  const packId = await store.open(path, () => Promise.resolve())
  await store.merge(packId, [comment])
  await store.file(packId, 'Ida, Tuesdays')
  return { library, packId }
}

const remove = (library: OpenLibrary, packId: string) =>
  storeOf(library).remove(packId, ({ dogName }) => library.bin.removePack(packId, dogName))

describe('a pack that was opened', () => {
  test('goes to the bin and comes back with its folder and all that was said of it', async () => {
    const { library, packId } = await withPack()
    const before = await storeOf(library).detail(packId)
    const heard: string[] = []
    library.onChanged((what) => heard.push(what))
    const removed = await remove(library, packId)
    expect(removed).toMatchObject({ kind: 'pack', id: packId, name: 'Wren', rides: 0 })
    expect(await storeOf(library).cards()).toEqual([])
    expect(library.bin.list()).toEqual([removed])
    await library.bin.putBack(removed.removedId)
    expect(await storeOf(library).detail(packId)).toEqual(before)
    expect(before.items).toEqual([comment])
    expect(heard).toEqual(['packs', 'bin', 'packs', 'bin'])
  })

  test('can be put back after the program was closed, and after the library moved', async () => {
    const { library, packId } = await withPack()
    const removed = await remove(library, packId)
    await library.close()
    const again = await testLibrary(library.folder)
    expect(again.bin.list()).toEqual([removed])
    await again.moveTo(await testFolder())
    await again.bin.putBack(removed.removedId)
    expect(await storeOf(again).cards()).toMatchObject([{ id: packId, student: 'Ida, Tuesdays', comments: 1 }])
  })

  test('is deleted for good after 30 days, and not before', async () => {
    const dayMs = 24 * 3600 * 1000
    let nowMs = Date.parse('2026-05-03T10:00:00Z')
    const now = () => nowMs
    const { library, packId } = await withPack(now)
    const removed = await remove(library, packId)
    await library.close()
    nowMs += 30 * dayMs
    const onTheLastDay = await testLibrary(library.folder, { now })
    expect(onTheLastDay.bin.list()).toEqual([removed])
    await onTheLastDay.close()
    nowMs += 1
    const after = await testLibrary(library.folder, { now })
    expect(after.bin.list()).toEqual([])
    expect(await readdir(join(library.folder, 'bin'))).toEqual([])
  })

  test('that is removed twice is told in a sentence the second time', async () => {
    const { library, packId } = await withPack()
    await remove(library, packId)
    await expect(remove(library, packId)).rejects.toThrow('no longer in the library')
  })

  test('and opened anew while it lay in the bin is one again when it comes back, with what was said of both', async () => {
    const { library, packId } = await withPack()
    const removed = await remove(library, packId)
    const path = join(await testFolder(), 'again.zip')
    await zipped(path, soundFiles())
    const store = storeOf(library)
    const again = await store.open(path, () => Promise.resolve())
    const later: ReviewItem = { ...comment, id: `${'b'.repeat(16)}.${'1'.repeat(12)}`, text: 'And here' }
    await store.merge(again, [later, { ...comment, version: 2, text: 'Drives very well up to here' }])

    const bin = binServices(library, { cameBack: () => store.joinTwins() })
    expect(await bin['bin.putBack']({ removedId: removed.removedId })).toMatchObject({ ok: true })
    const cards = await store.cards()
    expect(cards).toMatchObject([{ student: 'Ida, Tuesdays', comments: 2 }])
    const { items } = await store.detail(cards[0]!.id)
    expect(items).toEqual([{ ...comment, version: 2, text: 'Drives very well up to here' }, later])
    expect(await readdir(join(library.folder, 'packs'))).toEqual([cards[0]!.id])
  })

  test('stays beside its twin where one cannot hold what was said of both', async () => {
    const { library, packId } = await withPack()
    const many = (from: number): ReviewItem[] =>
      Array.from({ length: 1500 }, (_, k) => ({
        ...comment,
        id: `${'b'.repeat(16)}.${String(from + k).padStart(12, '0')}`,
      }))
    const store = storeOf(library)
    await store.merge(packId, many(0))
    const removed = await remove(library, packId)
    const path = join(await testFolder(), 'again.zip')
    await zipped(path, soundFiles())
    await store.merge(await store.open(path, () => Promise.resolve()), many(1500))
    await library.bin.putBack(removed.removedId)
    await store.joinTwins()
    expect((await store.cards()).map(({ comments }) => comments)).toEqual([1500, 1500])
  })

  test('is in a backup with its film and comments, and so is one that lies in the bin', async () => {
    const { library, packId } = await withPack()
    const path = join(await testFolder(), 'other.zip')
    await zipped(path, describedAs({ packId: randomUUID() }))
    const second = await storeOf(library).open(path, () => Promise.resolve())
    await remove(library, second)
    const kept = await storeOf(library).detail(packId)
    const files = (await readdir(join(library.folder, 'packs', packId))).toSorted()

    const backup = join(await testFolder(), 'b.zip')
    await library.backUp(backup)
    const to = await testFolder()
    await restoreBackup(backup, to)
    const restored = await testLibrary(to)
    expect(await storeOf(restored).detail(packId)).toEqual(kept)
    expect((await readdir(join(to, 'packs', packId))).toSorted()).toEqual(files)
    await restored.bin.putBack(restored.bin.list()[0]!.removedId)
    expect((await storeOf(restored).cards()).map(({ id }) => id).toSorted()).toEqual([packId, second].toSorted())
  })
})
