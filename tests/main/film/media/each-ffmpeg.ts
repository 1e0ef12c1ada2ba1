import { beforeAll, describe, expect, test, type TestContext } from 'vitest'
import { ffmpegCandidates } from '../../../../main/film/engines/engine-candidates.ts'
import { chooseFfmpeg } from '../../../../main/film/engines/ffmpeg-choice.ts'
import { testFfmpeg } from '../../../../main/film/engines/ffmpeg-self-test.ts'
import { runProgram } from '../../../../main/film/engines/run-program.ts'
import type { MediaFfmpeg } from '../../../../main/film/media/probed-clip.ts'
import { type Need, needs } from '../../../report/needs.ts'

const SOURCES: readonly { readonly source: string; readonly need: Need }[] = [
  { source: 'PATH', need: 'ffmpeg on the PATH' },
  { source: '@ffmpeg-installer', need: 'the ffmpeg that npm installs' },
  { source: 'ffmpeg-static', need: 'the ffmpeg of ffmpeg-static' },
]

/** Makes the same claims for every ffmpeg that this machine has; for one that it lacks, a single skipped test says so. */
export function forEachFfmpeg(claims: (engine: () => MediaFfmpeg) => void): void {
  describe.each(SOURCES)('with the ffmpeg of $source', ({ source, need }) => {
    const candidate = ffmpegCandidates(process.env).find((c) => c.source === source)
    if (candidate?.kind !== 'found') {
      test('clips are read', (context) => {
        needs(context, need)
        expect(candidate?.kind).toBe('found')
      })
      return
    }
    const { path } = candidate
    let found: MediaFfmpeg | null = null
    beforeAll(async () => {
      const result = await testedOnce(path)
      if (result.kind === 'failed') throw new Error(result.why)
      found = { ffmpegPath: path, features: result.features }
    })
    claims(() => {
      if (found === null) throw new Error('the self-test did not run')
      return found
    })
  })
}

const tests = new Map<string, ReturnType<typeof testFfmpeg>>()

/** The self-test of an ffmpeg, once for all files of this process. */
function testedOnce(path: string): ReturnType<typeof testFfmpeg> {
  const tested = tests.get(path) ?? testFfmpeg(path)
  tests.set(path, tested)
  return tested
}

const runs = new Map<string, ReturnType<typeof runProgram>>()

/**
 * Timestamps of all frames by ffprobe, which decodes them: s, as the container has them; NaN where it finds none. The one
 * that npm installs (2018) crashes on some files: then there is nothing to compare with, and the test is skipped aloud. A
 * clip is asked for once: it is the same for every ffmpeg that is compared with it.
 */
export async function ffprobeFrameTimes(context: TestContext, path: string): Promise<number[]> {
  const { ffprobePath } = await chooseFfmpeg()
  if (ffprobePath === null) throw new Error('there is no ffprobe')
  const show = ['-select_streams', 'V:0', '-show_entries', 'frame=best_effort_timestamp_time', '-of', 'csv=p=0']
  const running = runs.get(path) ?? runProgram(ffprobePath, ['-v', 'error', ...show, path], Buffer.alloc(0), 60_000)
  runs.set(path, running)
  const run = await running
  context.skip(
    run.kind === 'not-run' && run.why.includes('SIGSEGV'),
    'the ffprobe on this machine crashes on this file',
  )
  if (run.kind !== 'ended' || run.exitCode !== 0) throw new Error(JSON.stringify(run))
  // Frames with side data are followed by an empty line.
  const lines = run.stdout
    .toString('utf8')
    .split('\n')
    .filter((line) => line.trim() !== '')
  return lines.map((line) => Number.parseFloat(line))
}
