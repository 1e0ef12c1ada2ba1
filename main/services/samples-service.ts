import { randomUUID } from 'node:crypto'
import { existsSync } from 'node:fs'
import { join } from 'node:path'
import type { Handlers } from '../contract/calls.ts'
import type { Dog, KeptBoard } from '../contract/dogs-and-boards.ts'
import { problem, success, type Outcome } from '../contract/outcome.ts'
import { readBoardFile } from '../files/board-file.ts'
import { readMarksFile } from '../files/marks-file.ts'
import type { KeptClip, Library } from '../library/library.ts'
import { answered, thereOr } from '../library/library-problem.ts'
import { rideIdsByClip } from './clips-cards.ts'
import { draftOf, travelOf } from '../../analysis/marking/marks-draft.ts'
import type { ClipsService } from './clips-service.ts'
import { SAMPLES, type Sample } from './samples-list.ts'

export type SamplesHandlers = Pick<Handlers, 'samples.list' | 'samples.takeIn'>

/** The bundled clips: shown on the start screen, taken into the library with all that is known of them. */
export interface SamplesService {
  readonly handlers: SamplesHandlers
  takeIn(name: string): Promise<Outcome<KeptClip>>
}

/** @param folder where the bundled clips lie, each with its marks and board */
export function samplesService(library: Library, clips: ClipsService, folder: string): SamplesService {
  const clipPath = (name: string) => join(folder, `${name}.mp4`)

  async function takeIn(name: string): Promise<Outcome<KeptClip>> {
    const sample = SAMPLES.find((one) => one.name === name)
    if (sample === undefined || !existsSync(clipPath(name)))
      return problem('not-found', 'There is no such sample clip: install the program again if one is missing.')
    const stem = join(folder, name)
    const board = await readBoardFile(`${stem}.board.json`)
    const marks = await readMarksFile(`${stem}.marks.json`)
    if (!board.ok || !marks.ok)
      return problem('unreadable', `What belongs to the sample clip ${name} cannot be read: install the program again.`)
    const taken = await clips.takeInPath(clipPath(name))
    if (!taken.ok || taken.value.sample === name) return taken
    const dogId = (await dogOf(sample)).id
    const boardId = (await boardOf(sample, board.value)).id
    const said = { travel: travelOf(marks.value.rest), dogId, boardId, title: sample.title }
    return answered(async () => {
      const clip = await library.clips.update(taken.value.id, (now) => ({
        ...now,
        sample: name,
        // What somebody has said of the same file stays.
        marks: now.marks.rest === null ? draftOf(marks.value) : now.marks,
        setup: now.setup.boardId === null ? { ...now.setup, ...said } : now.setup,
      }))
      return thereOr(clip, 'This sample clip was removed just now: open it again.')
    })
  }

  async function dogOf({ dog }: Sample): Promise<Dog> {
    const known = library.dogs.list().find((one) => one.name === dog.name && one.note === dog.note)
    if (known !== undefined) return known
    const kept = { ...dog, bodyBefore: [], id: randomUUID() }
    await library.dogs.put(kept)
    return kept
  }

  async function boardOf({ boardName: name }: Sample, shape: KeptBoard['shape']): Promise<KeptBoard> {
    const known = library.boards.list().find((one) => one.name === name)
    if (known !== undefined) return known
    const kept = { id: randomUUID(), name, shape, note: 'The board of a sample clip.' }
    await library.boards.put(kept)
    return kept
  }

  const handlers: SamplesHandlers = {
    'samples.list': () => {
      const rideIds = rideIdsByClip(library)
      const cards = SAMPLES.filter(({ name }) => existsSync(clipPath(name))).map(({ name, title, about }) => {
        const clip = library.clips.list().find((one) => one.sample === name)
        const rideId = clip === undefined ? undefined : rideIds.get(clip.id)?.[0]
        return { name, title, about, clipId: clip?.id ?? null, rideId: rideId ?? null }
      })
      return Promise.resolve(success(cards))
    },

    'samples.takeIn': async ({ name }) => {
      const taken = await takeIn(name)
      return taken.ok ? success(await clips.detail(taken.value)) : taken
    },
  }
  return { handlers, takeIn }
}
