import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Ride } from '../../analysis/ride/ride.ts'
import { readBoardFile } from '../../main/files/board-file.ts'
import { readMarksFile } from '../../main/files/marks-file.ts'
import { measureClip } from '../../main/measuring/measure-clip.ts'
import type { Truth } from '../accuracy/clips-with-truth.ts'
import { scoreRide } from '../accuracy/score.ts'
import { damagedCopies, type DamagedCopy } from './damaged-clips.ts'
import { inFolder, orHangs, type TrialResult } from './trial.ts'

const FOLDER = 'sample-clips/clips'
/** Clips of one and of several key frames, of 30 and 50 frames a second. */
const CLIPS = ['wren-hold', 'pilot-early-leap', 'juno-missed-contact']
/** An interval is one of 95 %: only what lies this much beyond it is wrong, s. */
const SLACK_S = 0.05
const SLACK_M = 0.1

/** What came of a copy in one word of the counts. */
type End =
  'refused' | 'not measurable' | 'measured with the damage said' | 'measured right without a word' | 'measured wrong'

/**
 * Measures damaged copies of the sample clips, half of them damaged anywhere, half in their pictures only. A fault is a
 * copy that was measured wrong without a word of damage, one that crashed, and one that hung.
 *
 * @param count copies in all
 */
export async function damagedClipsTrial(count: number): Promise<TrialResult> {
  const counts = new Map<string, number>()
  const faults: string[] = []
  await inFolder(async (folder) => {
    for (const [place, clip] of CLIPS.entries()) {
      const whole = readFileSync(join(FOLDER, `${clip}.mp4`))
      const ofThis = Math.floor((count + place) / CLIPS.length)
      const copies = [
        ...damagedCopies(whole, Math.ceil(ofThis / 2)),
        ...damagedCopies(whole, Math.floor(ofThis / 2), 'pictures'),
      ]
      for (const copy of copies) {
        const name = `${clip} with ${copy.damage} ${copy.seed} at byte ${copy.fromByte}`
        try {
          const { end, wrong } = await orHangs(name, measureCopy(clip, copy, join(folder, `${clip}.mp4`)))
          counts.set(end, (counts.get(end) ?? 0) + 1)
          if (end === 'measured wrong') faults.push(`${name}: wrong without a word: ${wrong.join(', ')}`)
          console.error(`${name}: ${end}`)
        } catch (error) {
          faults.push(`${name}: ${String(error)}`)
          console.error(faults.at(-1))
        }
      }
    }
  })
  return { name: 'damaged clips', counts: { copies: count, ...Object.fromEntries(counts) }, faults, skipped: null }
}

async function measureCopy(clip: string, copy: DamagedCopy, path: string): Promise<{ end: End; wrong: string[] }> {
  writeFileSync(path, copy.bytes)
  const board = await readBoardFile(join(FOLDER, `${clip}.board.json`))
  const marks = await readMarksFile(join(FOLDER, `${clip}.marks.json`))
  if (!board.ok || !marks.ok) throw new Error(`${clip}: no board or marks`)
  const outcome = await measureClip({
    ...{ clipPath: path, board: board.value, marks: marks.value },
    ...{ signal: new AbortController().signal, onProgress: () => undefined },
  })
  if (outcome.kind !== 'measured') {
    return { end: outcome.kind === 'unreadable' ? 'refused' : 'not measurable', wrong: [] }
  }
  const { ride } = outcome.rides[0]!
  if (ride.notes.some((note) => note.includes('damaged') || note.includes('missing'))) {
    return { end: 'measured with the damage said', wrong: [] }
  }
  const truth = JSON.parse(readFileSync(join(FOLDER, `${clip}.truth.json`), 'utf8')) as Truth
  const wrong = wrongValues(ride, truth)
  return { end: wrong.length === 0 ? 'measured right without a word' : 'measured wrong', wrong }
}

/** The values whose interval misses the truth by more than the slack. */
function wrongValues(ride: Ride, truth: Truth): string[] {
  return Object.entries(scoreRide('', truth, ride).values)
    .filter(([name, value]) => {
      if (value.state === 'invented') return true
      if (value.state !== 'measured') return false
      const beyond = Math.abs(value.error) - value.width95 / 2
      return !value.isInside95 && beyond > (name.endsWith('S') ? SLACK_S : SLACK_M)
    })
    .map(([name]) => name)
}
