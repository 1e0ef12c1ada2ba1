import { type FSWatcher, watch } from 'chokidar'
import { extname } from 'node:path'

/** What phones and cameras write. */
const CLIP_ENDINGS: ReadonlySet<string> = new Set([
  '.mp4',
  '.mov',
  '.m4v',
  '.mkv',
  '.mts',
  '.m2ts',
  '.avi',
  '.webm',
  '.3gp',
])
/** A file that has not grown for this long has arrived, ms. */
const STILL_MS = 2000

export interface WatchedFolder {
  /** Watches this folder and no other; null: none. */
  follow(folder: string | null): void
  close(): Promise<void>
}

/**
 * Tells of each clip that arrives in a folder, or in a folder in it, once it has stopped growing; what lies there already is left
 * alone. The folder is only read.
 *
 * @param onProblem a sentence: the folder cannot be watched
 */
export function watchedFolder(
  onClip: (path: string) => void,
  onProblem: (sentence: string) => void,
  stillMs = STILL_MS,
): WatchedFolder {
  let followed: string | null = null
  let watcher: FSWatcher | null = null

  function follow(folder: string | null): void {
    if (folder === followed) return
    followed = folder
    void watcher?.close()
    watcher = null
    if (folder === null) return
    const opened = watch(folder, {
      ignoreInitial: true,
      depth: 3,
      awaitWriteFinish: { stabilityThreshold: stillMs, pollInterval: Math.min(100, stillMs) },
    })
    opened.on('add', (path) => {
      if (watcher === opened && CLIP_ENDINGS.has(extname(path).toLowerCase())) onClip(path)
    })
    opened.on('error', (error) =>
      onProblem(`${folder} cannot be watched for new clips: ${error instanceof Error ? error.message : String(error)}`),
    )
    watcher = opened
  }

  return {
    follow,
    async close() {
      const last = watcher
      watcher = null
      await last?.close()
    },
  }
}
