import { readdir, stat } from 'node:fs/promises'
import { basename, dirname, join } from 'node:path'
import { problem, success, type Outcome } from '../contract/outcome.ts'
import { chooseFfmpeg, NoFfmpegError } from '../film/engines/ffmpeg-choice.ts'
import type { KeptClip, Library } from '../library/library.ts'
import { answered, thereOr } from '../library/library-problem.ts'
import { ClipProblem } from '../film/media/clip-problem.ts'
import { probeClip, sha256Of } from '../film/media/probe-clip.ts'
import type { ProbedClip } from '../film/media/probed-clip.ts'

/** Clips whose frame list stays in memory. */
const KEPT_OPEN = 8
/** A file that was not found is looked for again after this time, ms. */
const LOOK_AGAIN_MS = 15_000

/** Where the library's clips lie on the disk, and what they are. */
export interface ClipFiles {
  /** Whether the file lies where it was; a quick look. */
  isThere(clip: KeptClip): Promise<boolean>
  /** The clip's file; one that has moved is looked for and, when found, kept with its new place. */
  find(clipId: string): Promise<Outcome<KeptClip>>
  /** Reads what the clip's file is. */
  open(clipId: string, signal: AbortSignal): Promise<Outcome<ProbedClip>>
  /** Reads what a file is that is not in the library yet. */
  read(path: string, signal?: AbortSignal): Promise<Outcome<ProbedClip>>
}

/** Absolute paths of all clips, also of those in the bin that lie in the library's own folder. */
export function clipPaths(library: Library): readonly string[] {
  const inBin = library.bin.copies().map((copy) => join(library.folder, copy))
  return [...library.clips.list().map(({ path }) => path), ...inBin]
}

/** @param samplesFolder where the bundled clips lie */
export function openClipFiles(library: Library, samplesFolder: string): ClipFiles {
  const opened = new Map<string, ProbedClip>()
  const soughtInVainMs = new Map<string, number>()

  async function isThere(clip: KeptClip): Promise<boolean> {
    const found = await stat(clip.path).catch(() => null)
    return found?.isFile() === true && found.size === clip.sizeBytes
  }

  async function find(clipId: string): Promise<Outcome<KeptClip>> {
    const clip = library.clips.get(clipId)
    if (clip === null) return problem('not-found', 'This clip is no longer in the library.')
    if (await isThere(clip)) return success(clip)
    const name = clip.facts.fileName
    const missing = problem(
      'file-missing',
      `${name} is no longer in ${dirname(clip.path)}: put it back, or show where it is now.`,
    )
    const lastMs = soughtInVainMs.get(clipId)
    if (lastMs !== undefined && performance.now() - lastMs < LOOK_AGAIN_MS) return missing
    const path = await search(clip)
    if (path === null) {
      soughtInVainMs.set(clipId, performance.now())
      return missing
    }
    return answered(async () => {
      const moved = await library.clips.update(clipId, (now) => (now.path === clip.path ? { ...now, path } : now))
      return thereOr(moved, 'This clip is no longer in the library.')
    })
  }

  async function search(clip: KeptClip): Promise<string | null> {
    for (const path of await likelyPlaces(clip)) {
      const found = await stat(path).catch(() => null)
      if (found?.isFile() !== true || found.size !== clip.sizeBytes) continue
      if ((await sha256Of(path).catch(() => '')) === clip.facts.sha256) return path
    }
    return null
  }

  /** Bundled clips move with the program and uploads with the library; others stay near, or keep their name. */
  async function likelyPlaces(clip: KeptClip): Promise<string[]> {
    const folder = dirname(clip.path)
    const above = dirname(folder)
    const name = basename(clip.path)
    const beside = await filesIn(folder)
    const further = (await foldersIn(above)).concat(await foldersIn(folder)).map((other) => join(other, name))
    return [
      ...(clip.sample === null ? [] : [join(samplesFolder, name)]),
      join(library.clipsFolder, basename(folder), name),
      join(library.clipsFolder, name),
      ...beside,
      join(above, name),
      ...further,
    ]
  }

  async function open(clipId: string, signal: AbortSignal): Promise<Outcome<ProbedClip>> {
    const clip = await find(clipId)
    if (!clip.ok) return clip
    const probed = await read(clip.value.path, signal)
    if (probed.ok && probed.value.sha256 !== clip.value.facts.sha256) {
      return problem(
        'file-missing',
        `Another clip is now stored as ${clip.value.facts.fileName}: show where the right one is.`,
      )
    }
    return probed
  }

  async function read(path: string, signal?: AbortSignal): Promise<Outcome<ProbedClip>> {
    const { size, mtimeMs } = (await stat(path).catch(() => null)) ?? { size: 0, mtimeMs: 0 }
    const key = `${path} ${size} ${mtimeMs}`
    const known = opened.get(key)
    if (known !== undefined) return success(known)
    try {
      const probed = await probeClip(path, await chooseFfmpeg(), signal)
      opened.set(key, probed)
      for (const oldest of opened.keys()) {
        if (opened.size <= KEPT_OPEN) break
        opened.delete(oldest)
      }
      return success(probed)
    } catch (error) {
      if (error instanceof ClipProblem || error instanceof NoFfmpegError) return problem('unreadable', error.message)
      throw error
    }
  }

  return { isThere, find, open, read }
}

async function filesIn(folder: string): Promise<string[]> {
  const entries = await readdir(folder, { withFileTypes: true }).catch(() => [])
  return entries.filter((entry) => entry.isFile()).map((entry) => join(folder, entry.name))
}

async function foldersIn(folder: string): Promise<string[]> {
  const entries = await readdir(folder, { withFileTypes: true }).catch(() => [])
  return entries.filter((entry) => entry.isDirectory()).map((entry) => join(folder, entry.name))
}
