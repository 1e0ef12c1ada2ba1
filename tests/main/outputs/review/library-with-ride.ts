import { join } from 'node:path'
import { onTestFinished } from 'vitest'
import type { Export, ExportOrder } from '../../../../main/contract/exports.ts'
import { NO_CORRECTIONS } from '../../../../main/contract/rides.ts'
import { NO_SESSION } from '../../../../main/contract/sessions.ts'
import type { Outcome } from '../../../../main/contract/outcome.ts'
import { openLibrary } from '../../../../main/library/open-library.ts'
import { openServices, type Services } from '../../../../main/services/services.ts'
import { forkWorkerProcess } from '../../../../main/services/worker-process.ts'
import { wrenHold } from '../../../analysis/ride/wren-hold.ts'

export const SAMPLES = join(import.meta.dirname, '../../../../sample-clips/clips')

function valueOf<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.error.message)
  return outcome.value
}

/** Services on a library; closed after the test. */
export async function servicesOn(libraryFolder: string, reviewPageFolder?: string): Promise<Services> {
  const services = valueOf(
    await openServices({
      libraryFolder,
      samplesFolder: SAMPLES,
      startWorkerProcess: forkWorkerProcess,
      ...(reviewPageFolder === undefined ? {} : { reviewPageFolder }),
    }),
  )
  onTestFinished(() => services.close())
  return services
}

/** Puts the sample clip wren-hold with its measured ride into a library; nothing is measured. Gives the ride's id. */
export async function putWrenHold(libraryFolder: string, clipPath = join(SAMPLES, 'wren-hold.mp4')): Promise<string> {
  const options = { libraryFolder, samplesFolder: SAMPLES, startWorkerProcess: forkWorkerProcess }
  const services = valueOf(await openServices(options))
  const sample = valueOf(await services.handlers['samples.takeIn']({ name: 'wren-hold' }))
  const { fileId } = valueOf(await services.files.register(clipPath))
  const clip = valueOf(await services.handlers['clips.takeIn']({ fileId }))
  const { setup, marks } = sample
  valueOf(await services.handlers['clips.mark']({ clipId: clip.card.id, marks }))
  await services.close()
  const library = await openLibrary(libraryFolder)
  const rideId = 'ride-of-wren'
  await library.rides.put({
    id: rideId,
    clipId: clip.card.id,
    dogId: setup.dogId,
    boardId: setup.boardId,
    title: setup.title,
    note: '',
    session: NO_SESSION,
    corrections: NO_CORRECTIONS,
    review: [],
    record: wrenHold,
  })
  await library.close()
  return rideId
}

/** Orders a file and waits for it. */
export async function exported(services: Services, order: ExportOrder): Promise<Export> {
  const started = valueOf(await services.handlers['exports.start'](order))
  return new Promise((resolve) => {
    const stop = services.onHappening((happening) => {
      if (happening.kind !== 'export' || happening.export.id !== started.id) return
      if (happening.export.state.kind === 'running') return
      stop()
      resolve(happening.export)
    })
    void services.handlers['exports.get']({ exportId: started.id }).then((now) => {
      if (!now.ok || now.value.state.kind === 'running') return
      stop()
      resolve(now.value)
    })
  })
}

/** Where a file that was ordered lies. */
export async function exportedPath(services: Services, order: ExportOrder): Promise<string> {
  const { id, state } = await exported(services, order)
  const ready = services.exports.ready(id)
  if (ready === null) throw new Error(state.kind === 'failed' ? state.message : `The file is ${state.kind}.`)
  return ready.path
}
