import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { Dog } from '../../../main/contract/dogs-and-boards.ts'
import { CardShelf, type Shelving } from '../../../main/library/card-shelf.ts'
import { ChangeQueue } from '../../../main/library/change-queue.ts'
import { type Kept, KeptFiles } from '../../../main/library/kept-files.ts'
import { juno } from './things.ts'

/** How a write ends: done, failed before it reached the disk, or failed although it did. */
type End = 'done' | 'failed' | 'failed-late'

/** A disk in memory, whose every access takes as long as the scheduler likes. */
class Disk extends KeptFiles<Dog> {
  readonly cards = new Map<string, Kept<Dog>>()
  readonly ends: End[] = []
  readonly #scheduler: fc.Scheduler

  constructor(scheduler: fc.Scheduler) {
    super('dogs', { folder: '/nowhere' }, 1, (part) => part)
    this.#scheduler = scheduler
  }

  override async write(card: Dog, addedAt: number): Promise<Kept<Dog>> {
    const end = this.ends.shift() ?? 'done'
    await this.#scheduler.schedule(Promise.resolve(), 'write')
    const kept = { format: 1, addedAt, part: null, card }
    if (end !== 'failed') this.cards.set(card.id, kept)
    await this.#scheduler.schedule(Promise.resolve(), 'flush')
    if (end !== 'done') throw new Error('the disk failed')
    return kept
  }

  override async read(id: string): Promise<Kept<Dog> | null> {
    await this.#scheduler.schedule(Promise.resolve(), 'read')
    return this.cards.get(id) ?? null
  }

  override tidy(): Promise<void> {
    return Promise.resolve()
  }
}

function shelfOn(disk: Disk): CardShelf<Dog> {
  const queue = new ChangeQueue()
  let addedAt = 0
  const shelving: Shelving = {
    folder: '/nowhere',
    run: (work) => queue.run(work),
    noteChange: () => Promise.resolve(),
    tellChange: () => undefined,
    remove: () => Promise.resolve(null),
    nextAddedAt: () => ++addedAt,
  }
  return new CardShelf(disk, shelving, [])
}

const FIELDS = ['name', 'note'] as const

const change = fc.record({
  id: fc.constantFrom('a', 'b'),
  field: fc.constantFrom(...FIELDS),
  value: fc.integer({ min: 0, max: 99 }).map(String),
  end: fc.constantFrom<End>('done', 'done', 'done', 'failed', 'failed-late'),
  /** Whether the next one is asked for only once this one is answered. */
  isAwaited: fc.boolean(),
})

test('whatever is asked for at once, each change keeps what those before have set; what is told as kept is on the disk', async () => {
  await fc.assert(
    fc.asyncProperty(fc.scheduler(), fc.array(change, { maxLength: 12 }), async (scheduler, changes) => {
      const disk = new Disk(scheduler)
      const shelf = shelfOn(disk)
      const model = new Map<string, Dog>()
      const start = Promise.all(['a', 'b'].map((id) => shelf.put({ ...juno, id })))
      for (const id of ['a', 'b']) model.set(id, { ...juno, id })
      await scheduler.waitFor(start)

      const answers: Promise<void>[] = []
      for (const { id, field, value, end, isAwaited } of changes) {
        disk.ends.push(end)
        const answer = shelf
          .update(id, (now) => ({ ...now, [field]: value }))
          .then(
            () => expect(end, 'a change that failed was told as kept').toBe('done'),
            () => expect(end, 'a change that was kept was told as failed').not.toBe('done'),
          )
        answers.push(answer)
        if (end !== 'failed') model.set(id, { ...model.get(id)!, [field]: value })
        if (isAwaited) await scheduler.waitFor(answer)
      }
      await scheduler.waitFor(Promise.all(answers))
      for (const id of ['a', 'b']) {
        expect(shelf.get(id)).toEqual(model.get(id))
        expect(disk.cards.get(id)?.card).toEqual(model.get(id))
      }
    }),
    { numRuns: 300 },
  )
})
