import { rmSync } from 'node:fs'
import { cp, mkdtemp } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect } from 'vitest'
import { markedTravel } from '../../analysis/marking/marks-draft.ts'
import type { ClipDetail, ClipSetup, MarksProposal } from '../../main/contract/clips.ts'
import { type Outcome, success } from '../../main/contract/outcome.ts'
import { WINDOW_FOLDER } from '../../main/hosts/build/build-window.ts'
import { openServices, type Services } from '../../main/services/services.ts'
import type { StartWorkerProcess } from '../../main/services/worker-process.ts'
import { wrenBoard } from '../renderer/marking/sample-marks.ts'
import { measuringOnce } from './measuring-once.ts'

const SAMPLES = join(import.meta.dirname, '../../sample-clips/clips')
/** As long as a test may take. */
const PATIENT = { timeout: 250_000, interval: 100 }

export function sampleClip(name: string): string {
  return join(SAMPLES, name)
}

export function newLibraryFolder(): Promise<string> {
  return mkdtemp(join(tmpdir(), 'tiphold-window-'))
}

export function valueOf<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.error.message)
  return outcome.value
}

/**
 * What a window is served by.
 * @param folder holds the library in a folder of its own
 * @param proposals what the program offers as marks, whatever the clip
 */
export async function servicesOn(
  folder: string,
  proposals: readonly MarksProposal[],
  startWorkerProcess: StartWorkerProcess = measuringOnce,
): Promise<Services> {
  return valueOf(
    await openServices({
      samplesFolder: SAMPLES,
      reviewPageFolder: WINDOW_FOLDER,
      startWorkerProcess,
      libraryFolder: join(folder, 'library'),
      propose: () =>
        Promise.resolve(
          success({
            offers: proposals,
            noneBecause: proposals.length === 0 ? ('nothing-tips' as const) : null,
            travel: proposals[0] === undefined ? null : markedTravel(proposals[0].marks),
          }),
        ),
    }),
  )
}

const made = new Map<string, Promise<string>>()

/** A copy of a library that is made once for all tests of this process. */
async function copyOf(what: string, fill: (services: Services) => Promise<void>): Promise<string> {
  const original = made.get(what) ?? make(fill)
  made.set(what, original)
  const copy = await newLibraryFolder()
  await cp(await original, copy, { recursive: true })
  return copy
}

async function make(fill: (services: Services) => Promise<void>): Promise<string> {
  const folder = await newLibraryFolder()
  process.once('exit', () => {
    rmSync(folder, { recursive: true, force: true })
  })
  const services = await servicesOn(folder, [])
  await fill(services)
  await services.close()
  return folder
}

/** A new library that holds the ride of the first sample, measured, with the pictures of its film. */
export function libraryWithRide(): Promise<string> {
  return copyOf('ride', async ({ handlers }) => {
    const clip = valueOf(await handlers['samples.takeIn']({ name: 'wren-hold' }))
    const job = valueOf(await handlers['measuring.start']({ clipId: clip.card.id }))
    const state = async () => valueOf(await handlers['measuring.jobs']({})).find(({ id }) => id === job.id)?.state.kind
    await expect.poll(state, PATIENT).toBe('done')
    await preparePictures(handlers, clip)
  })
}

/** A new library that holds a sample's film as a handler's clip, set up on the Club aluminium with Juniper, unmarked. */
export function libraryWithClip(fileName: string): Promise<string> {
  return copyOf(fileName, async ({ files, handlers }) => {
    const { fileId } = valueOf(await files.register(sampleClip(fileName)))
    const clip = valueOf(await handlers['clips.takeIn']({ fileId }))
    const board = { name: 'Club aluminium', shape: wrenBoard, note: '' }
    const { id: boardId } = valueOf(await handlers['boards.keep']({ id: null, board }))
    const body = { withersM: null, massKg: null, bodyDay: null, bornInMonth: null }
    const dog = { name: 'Juniper', ...body, criterion: null, note: '' }
    const { id: dogId } = valueOf(await handlers['dogs.keep']({ id: null, dog }))
    const setup: ClipSetup = { ...clip.setup, travel: 'to-right', boardId, dogId }
    valueOf(await handlers['clips.setUp']({ clipId: clip.card.id, setup }))
    await preparePictures(handlers, clip)
  })
}

async function preparePictures(handlers: Services['handlers'], { card }: ClipDetail): Promise<void> {
  valueOf(await handlers['clips.preparePictures']({ clipId: card.id }))
  const state = async () => valueOf(await handlers['clips.get']({ clipId: card.id })).pictures.kind
  await expect.poll(state, PATIENT).toBe('ready')
}
