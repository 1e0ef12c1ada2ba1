import { join } from 'node:path'
import type { Handlers, Happening } from '../contract/calls.ts'
import type { MarksSearch } from '../contract/clips.ts'
import { type Outcome, problem, success } from '../contract/outcome.ts'
import { defaultLibraryFolder } from '../library/library-folder.ts'
import type { KeptClip } from '../library/library.ts'
import { answered } from '../library/library-problem.ts'
import { openLibrary, type OpenLibrary } from '../library/open-library.ts'
import { ClipPictures } from '../film/pictures/clip-pictures.ts'
import { measureOnArrival } from './arriving-service.ts'
import { binServices } from './bin-services.ts'
import { boardFeels } from './board-feels.ts'
import { boardsServices } from './boards-services.ts'
import { clipPaths, openClipFiles } from './clips-files.ts'
import { clipsService } from './clips-service.ts'
import { dogsServices } from './dogs-services.ts'
import { dropsService } from './drops-service.ts'
import { enginesHandlers } from './engines-report.ts'
import { type HandedFiles, openHandedFiles, sweepUploads } from './handed-files.ts'
import { type Exports, exportsService } from './exports-service.ts'
import { packsService } from './packs-service.ts'
import { inOrder } from './in-order.ts'
import { libraryServices } from './library-services.ts'
import { notedServices } from './noted-services.ts'
import { type MeasuringService, measuringService } from './measuring-service.ts'
import type { Pictures } from '../film/pictures/pictures.ts'
import { proposingService } from './proposing-service.ts'
import { ridesServices } from './rides-services.ts'
import { prepareFirstSample } from './samples-first.ts'
import { samplesService } from './samples-service.ts'
import { reportingService } from './reporting-service.ts'
import { seasonSample } from './season-sample.ts'
import { seasonsService } from './seasons-service.ts'
import { settingsServices } from './settings-services.ts'
import { watchedFolder } from './watched-folder.ts'
import type { StartWorkerProcess } from './worker-process.ts'

/** Everything that a host serves to its window; the services know nothing of the host. */
export interface Services {
  readonly handlers: Handlers
  readonly pictures: Pictures
  readonly files: HandedFiles
  readonly exports: Exports
  /** Calls back for everything that the window should hear of until the returned function is called. */
  onHappening(listener: (happening: Happening) => void): () => void
  /** True while a clip is measured or waits for it: closing asks then. */
  isMeasuring(): boolean
  /** In an empty library, takes the first sample clip in and measures it in the background. */
  prepareFirstSample(): Promise<void>
  /** Stops what runs and lets go of the library. */
  close(): Promise<void>
}

export interface ServicesOptions {
  /** Where the bundled sample clips lie. */
  readonly samplesFolder: string
  readonly startWorkerProcess: StartWorkerProcess
  /** Where the page that lies in review packs was built; without it none can be made. */
  readonly reviewPageFolder?: string
  /** The user's own place unless given. */
  readonly libraryFolder?: string
  /** Told things worth knowing that are no reason not to open, a sentence each. */
  readonly onNote?: (sentence: string) => void
  /** Where marks are proposed from, in tests; the clips themselves unless given. */
  readonly propose?: (clip: KeptClip) => Promise<Outcome<MarksSearch>>
}

/** Opens the library and everything on it; says in a sentence why it cannot, above all when it is open elsewhere. */
export async function openServices(options: ServicesOptions): Promise<Outcome<Services>> {
  const { libraryFolder = defaultLibraryFolder(), onNote = () => undefined } = options
  const library = await answered(() => openLibrary(libraryFolder, { onNote }))
  return library.ok ? success(await servicesOn(library.value, options)) : library
}

async function servicesOn(library: OpenLibrary, options: ServicesOptions): Promise<Services> {
  const { samplesFolder, startWorkerProcess, onNote = () => undefined } = options
  // A clip that cannot be read may need its copy yet.
  if (!(await library.unreadable()).some(({ kind }) => kind === 'clip')) {
    const swept = await sweepUploads(library.clipsFolder, clipPaths(library))
    if (swept.files > 0) onNote(sweptSentence(swept))
  }

  const listeners = new Set<(happening: Happening) => void>()
  const tell = (happening: Happening): void => listeners.forEach((listener) => listener(happening))
  library.onChanged((what) => tell({ kind: 'changed', what }))

  const handed = openHandedFiles(() => library.clipsFolder)
  const files = openClipFiles(library, samplesFolder)
  const packs = packsService({ library, handed, files, tell })
  const pictures = new ClipPictures(
    () => library.picturesFolder,
    {
      open: (id, signal) => packs.film(id, signal) ?? files.open(id, signal),
      stretchOf: (clipId) => library.clips.get(clipId)?.setup.stretch ?? null,
    },
    (clipId, framesDone, framesTotal) => tell({ kind: 'pictures', clipId, framesDone, framesTotal }),
  )
  const measuring = measuringService({ library, files, tell, startWorkerProcess })
  const proposing = proposingService(library, files, startWorkerProcess)
  const reporting = reportingService(startWorkerProcess)
  const feels = boardFeels(library, reporting, () => tell({ kind: 'changed', what: 'boards' }))
  const propose = options.propose ?? proposing.propose
  const clips = clipsService({
    library,
    handed,
    files,
    pictures,
    isBeingMeasured: measuring.isBeingMeasured,
    stopMeasuring: measuring.stopFor,
    propose,
  })

  const samples = samplesService(library, clips, samplesFolder)
  const pageFolder = options.reviewPageFolder ?? null
  const exports = exportsService({ library, files, packs, pageFolder, tell })
  const handlers = inOrder({
    ...dogsServices(library),
    ...boardsServices(library),
    ...dropsService(library, reporting, feels),
    ...clips.handlers,
    ...samples.handlers,
    ...measuring.handlers,
    ...ridesServices(library),
    ...notedServices(library),
    ...seasonsService(library, reporting, feels),
    ...seasonSample(library, join(samplesFolder, '..', 'season')),
    ...packs.handlers,
    ...exports.handlers,
    ...binServices(library, packs),
    ...settingsServices(library),
    ...enginesHandlers(),
    ...libraryWhileNothingIsMeasured(library, handed, measuring),
  })
  const arrived = (clipId: string): void => {
    measureOnArrival({ library, propose, handlers }, clipId).catch((error: unknown) => {
      onNote(`A new clip could not be measured on arrival: ${String(error)}`)
    })
  }
  const watching = watchedFolder((path) => {
    void clips
      .takeInPath(path)
      .then((taken) => (taken.ok ? arrived(taken.value.id) : onNote(`${path}: ${taken.error.message}`)))
      .catch((error: unknown) => onNote(`${path} could not be taken in: ${String(error)}`))
  }, onNote)
  const followSettings = (): void => watching.follow(library.settings.get().watchedFolder)
  followSettings()
  library.onChanged((what) => {
    if (what === 'settings') followSettings()
  })

  return {
    handlers: {
      ...handlers,
      async 'clips.takeIn'(input) {
        const taken = await handlers['clips.takeIn'](input)
        if (taken.ok) arrived(taken.value.card.id)
        return taken
      },
    },
    pictures,
    files: handed,
    exports,
    onHappening: (listener) => {
      const own: typeof listener = (happening) => listener(happening)
      listeners.add(own)
      return () => listeners.delete(own)
    },
    isMeasuring: measuring.isMeasuring,
    prepareFirstSample: () =>
      prepareFirstSample(library, samples, measuring).catch((error: unknown) => {
        onNote(`The first sample ride could not be prepared: ${String(error)}`)
      }),
    async close() {
      await watching.close()
      proposing.close()
      reporting.close()
      await exports.close()
      await measuring.close()
      await pictures.close()
      await library.close()
    },
  }
}

function sweptSentence({ files, bytes }: { readonly files: number; readonly bytes: number }): string {
  const what = files === 1 ? 'A copy of a clip that was' : `${files} copies of clips that were`
  return `${what} never opened ${files === 1 ? 'was' : 'were'} deleted from the library (${Math.ceil(bytes / 1e6)} MB); your own files are untouched.`
}

/** A clip that is being measured must not lose its place. */
function libraryWhileNothingIsMeasured(library: OpenLibrary, handed: HandedFiles, { isMeasuring }: MeasuringService) {
  const handlers = libraryServices(library, handed)
  return {
    ...handlers,
    'library.move': (input: Parameters<(typeof handlers)['library.move']>[0]) =>
      isMeasuring()
        ? Promise.resolve(problem('not-ready', 'A clip is being measured: move the library once that is done.'))
        : handlers['library.move'](input),
  } satisfies Partial<Handlers>
}
