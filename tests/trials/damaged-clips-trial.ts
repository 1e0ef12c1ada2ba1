/**
 * Measures damaged copies of the sample clips and counts what came of them. `tsx tests/trials/damaged-clips-trial.ts 60`
 * measures so many and prints the counts; it fails when a copy was measured wrong without a word.
 */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import type { Ride } from '../../analysis/ride/ride.ts'
import { readBoardFile } from '../../main/files/board-file.ts'
import { readMarksFile } from '../../main/files/marks-file.ts'
import { measureClip } from '../../main/measuring/measure-clip.ts'
import type { Truth } from '../accuracy/clips-with-truth.ts'
import { scoreRide } from '../accuracy/score.ts'
import { damagedCopies, type DamagedCopy } from './damaged-clips.ts'

/** What came of one copy; `wrong` names the values whose interval misses the truth by more than the slack. */
export interface Outcome {
  readonly clip: string
  readonly copy: DamagedCopy
  readonly end: 'unreadable' | 'bad-marks' | 'nothing' | 'measured' | 'crashed'
  readonly saysDamage: boolean
  readonly wrong: readonly string[]
  /** How many of the values that are compared were given. */
  readonly given: number
  readonly detail: string
  readonly wallS: number
}

const FOLDER = 'sample-clips/clips'
/** Clips of one and of several key frames, of 30 and 50 frames a second. */
const CLIPS = ['wren-hold', 'pilot-early-leap', 'juno-missed-contact']
/** An interval is one of 95 %: only what lies this much beyond it is wrong, s. */
const SLACK_S = 0.05
const SLACK_M = 0.1

/** Measures `count` copies of each clip. */
export async function measureDamaged(count: number, onOutcome: (outcome: Outcome) => void): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'tiphold-damaged-'))
  try {
    for (const clip of CLIPS) {
      const whole = readFileSync(join(FOLDER, `${clip}.mp4`))
      const copies = [
        ...damagedCopies(whole, Math.ceil(count / 2)),
        ...damagedCopies(whole, Math.floor(count / 2), 'pictures'),
      ]
      for (const copy of copies) onOutcome(await measureCopy(clip, copy, join(folder, `${clip}.mp4`)))
    }
  } finally {
    rmSync(folder, { recursive: true })
  }
}

async function measureCopy(clip: string, copy: DamagedCopy, path: string): Promise<Outcome> {
  writeFileSync(path, copy.bytes)
  const board = await readBoardFile(join(FOLDER, `${clip}.board.json`))
  const marks = await readMarksFile(join(FOLDER, `${clip}.marks.json`))
  if (!board.ok || !marks.ok) throw new Error(`${clip}: no board or marks`)
  const startMs = performance.now()
  const common = { clip, copy }
  const none = { saysDamage: true, wrong: [], given: 0 }
  const wallS = () => (performance.now() - startMs) / 1000
  try {
    const outcome = await measureClip({
      ...{ clipPath: path, board: board.value, marks: marks.value },
      ...{ signal: new AbortController().signal, onProgress: () => undefined },
    })
    if (outcome.kind !== 'measured')
      return { ...common, ...none, end: outcome.kind, detail: outcome.detail, wallS: wallS() }
    const { ride } = outcome.rides[0]!
    const truth = JSON.parse(readFileSync(join(FOLDER, `${clip}.truth.json`), 'utf8')) as Truth
    const said = ride.notes.filter((note) => note.includes('damaged') || note.includes('missing'))
    return {
      ...common,
      end: 'measured',
      saysDamage: said.length > 0,
      ...judged(ride, truth),
      detail: said.join(' '),
      wallS: wallS(),
    }
  } catch (error) {
    return { ...common, ...none, end: 'crashed', detail: String(error), wallS: wallS() }
  }
}

function judged(ride: Ride, truth: Truth): Pick<Outcome, 'wrong' | 'given'> {
  const values = Object.entries(scoreRide('', truth, ride).values)
  const given = values.filter(([, { state }]) => state === 'measured' || state === 'invented')
  const wrong = given.filter(([name, value]) => {
    if (value.state !== 'measured') return true
    const beyond = Math.abs(value.error) - value.width95 / 2
    return !value.isInside95 && beyond > (name.endsWith('S') ? SLACK_S : SLACK_M)
  })
  return { given: given.length, wrong: wrong.map(([name]) => name) }
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  const outcomes: Outcome[] = []
  await measureDamaged(Number(process.argv[2] ?? 20), (outcome) => {
    outcomes.push(outcome)
    const { clip, copy, end, saysDamage, wrong, given, detail, wallS } = outcome
    const word =
      end === 'measured'
        ? `${given} given, wrong: ${wrong.join(' ') || 'none'}, ${saysDamage ? 'said' : 'not said'}`
        : end
    console.log(`${clip} ${copy.damage} ${copy.seed} at ${copy.fromByte}: ${word} (${wallS.toFixed(1)} s) ${detail}`)
  })
  const count = (of: (o: Outcome) => boolean) => outcomes.filter(of).length
  const silent = (o: Outcome) => o.end === 'measured' && !o.saysDamage
  console.log(
    [
      `${outcomes.length} damaged copies: ${count((o) => o.end === 'unreadable')} refused, ${count((o) => o.end === 'bad-marks' || o.end === 'nothing')} not measurable`,
      `${count((o) => o.end === 'measured' && o.saysDamage)} measured with the damage said (${count((o) => o.end === 'measured' && o.saysDamage && o.wrong.length > 0)} of them with a wrong number)`,
      `${count((o) => silent(o) && o.wrong.length === 0)} measured right without a word, ${count((o) => silent(o) && o.wrong.length > 0)} wrong without a word, ${count((o) => o.end === 'crashed')} crashed`,
      `slowest ${Math.max(...outcomes.map((o) => o.wallS)).toFixed(0)} s`,
    ].join('; '),
  )
  process.exit(count((o) => (silent(o) && o.wrong.length > 0) || o.end === 'crashed') === 0 ? 0 : 1)
}
