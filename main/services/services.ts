import type { Handlers, Happening } from '../contract/calls.ts'
import type { HandedFiles } from './handed-files.ts'
import type { Pictures } from './pictures.ts'

/** Everything that a host serves to its window; the services know nothing of the host. */
export interface Services {
  readonly handlers: Handlers
  readonly pictures: Pictures
  readonly files: HandedFiles
  /** Calls back for everything that the window should hear of until the returned function is called. */
  onHappening(listener: (happening: Happening) => void): () => void
  /** True while a clip is measured or waits for it: closing asks then. */
  isMeasuring(): boolean
  /** Stops what runs and lets go of the library. */
  close(): Promise<void>
}
