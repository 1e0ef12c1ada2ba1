/** `npm run bench:accuracy`: measures every clip with truth that it finds and prints errors and coverage. */
import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { readBoardFile } from '../../main/files/board-file.ts'
import { readMarksFile } from '../../main/files/marks-file.ts'
import { measureClip } from '../../main/measuring/measure-clip.ts'
import { angleError95, compareRide, trueLeaving, type Compared, type RideTruth } from './score.ts'

const folders = ['sample-clips/clips', '../shared/clips'].filter((folder) => existsSync(folder))
const all: Record<string, Compared[]> = {}
const verdicts = { right: 0, open: 0, wrong: 0 }

console.log('errors: ms (frames); lead paw at the tip in cm; board angle: 95 % of frames below, deg')
for (const folder of folders) {
  for (const file of readdirSync(folder).filter((name) => name.endsWith('.truth.json'))) {
    const name = file.replace('.truth.json', '')
    const truth = JSON.parse(readFileSync(join(folder, file), 'utf8')) as RideTruth
    // Drop tests are scored by their tests.
    if (typeof truth.events['releaseS'] === 'number') continue
    console.log(`${name.padEnd(22)} ${await row(folder, name, truth)}`)
  }
}
console.log('')
for (const [key, list] of Object.entries(all)) {
  const errors = list.flatMap((c) => (c.error === undefined ? [] : [Math.abs(c.error)])).sort((a, b) => a - b)
  const covered = list.filter((c) => c.covered === true).length
  console.log(
    `${key.padEnd(10)} measured ${errors.length}, invented ${list.filter((c) => c.state === 'invented').length}, median error ${(errors[errors.length >> 1] ?? NaN).toFixed(4)}, inside the 95 % interval ${covered}`,
  )
}
console.log(`verdicts   right ${verdicts.right}, unsure ${verdicts.open}, wrong ${verdicts.wrong}`)

async function row(folder: string, name: string, truth: RideTruth): Promise<string> {
  const board = await readBoardFile(join(folder, `${name}.board.json`))
  const marks = await readMarksFile(join(folder, `${name}.marks.json`))
  if (!board.ok || !marks.ok) return 'board or marks cannot be read'
  const outcome = await measureClip({
    clipPath: join(folder, marks.value.clip),
    board: board.value,
    marks: marks.value,
    slowMotion: truth.slowMotionFactor ?? 1,
    signal: new AbortController().signal,
    onProgress: () => undefined,
  })
  if (outcome.kind !== 'measured') return outcome.detail
  const { ride } = outcome.rides[0]!
  const compared = compareRide(ride, truth)
  for (const [key, value] of Object.entries(compared)) (all[key] ??= []).push(value)
  const zones = truth.zones ?? null
  const pairs: [string, string | null][] = [
    [ride.leaving.verdict, trueLeaving(truth.events)],
    [ride.zones.up.verdict, zones === null ? null : zones.up.touched ? 'touched' : 'missed'],
    [ride.zones.down.verdict, zones === null ? null : zones.down.touched ? 'touched' : 'missed'],
  ]
  for (const [got, want] of pairs) {
    if (want === null) continue
    if (got === want) verdicts.right++
    else if (['unsure', 'too-close', 'not-seen'].includes(got)) verdicts.open++
    else verdicts.wrong++
  }
  const cells = Object.entries(compared).map(([key, c]) => {
    if (c.error === undefined) return `${key} ${c.state}`
    return key === 'paw'
      ? `paw ${(100 * c.error).toFixed(1)}`
      : `${key} ${(1000 * c.error).toFixed(0)} (${(c.error * truth.camera.fps).toFixed(2)})`
  })
  return [...cells, `angle ${angleError95(ride, truth)?.toFixed(3) ?? '-'}`].join(', ')
}
