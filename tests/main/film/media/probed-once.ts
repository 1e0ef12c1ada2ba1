import { probeClip } from '../../../../main/film/media/probe-clip.ts'
import type { MediaFfmpeg, ProbedClip } from '../../../../main/film/media/probed-clip.ts'

const probes = new Map<string, Promise<ProbedClip>>()

/** What a clip is, asked once for all tests of a file: a clip that a test made does not change. */
export function probedOnce(path: string, engine: MediaFfmpeg): Promise<ProbedClip> {
  const key = `${engine.ffmpegPath} ${path}`
  const probe = probes.get(key) ?? probeClip(path, engine)
  probes.set(key, probe)
  return probe
}
