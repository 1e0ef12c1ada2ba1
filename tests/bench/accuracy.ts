/**
 * `npm run bench:accuracy`: measures every clip with truth, those of this repository and those in a folder of shared
 * clips beside it where there is one, prints how right each was, keeps the run in `tests/accuracy/accuracy.json` and
 * writes README.md's table from it.
 */
import { readFile, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { clipsWithTruth, SAMPLE_FOLDER, SHARED_FOLDER } from '../accuracy/clips-with-truth.ts'
import { markedPart, withMarkedPart } from '../accuracy/marked-part.ts'
import { readAccuracy, type RecordedClips, writeAccuracy } from '../accuracy/record.ts'
import { measuredClip } from '../accuracy/measured-clips.ts'
import { type ClipScore, scoreDrop, scoreRide } from '../accuracy/score.ts'
import { accuracyInWords } from '../accuracy/table.ts'

const README = join(import.meta.dirname, '../../README.md')

const sample = await recorded(SAMPLE_FOLDER)
if (sample === null) throw new Error(`${SAMPLE_FOLDER} holds no clips.`)
const shared = (await recorded(SHARED_FOLDER)) ?? readAccuracy().shared
await writeAccuracy({ sample, shared })
const page = await readFile(README, 'utf8')
// As it was rounded when it was kept: README and record must agree.
await writeFile(README, withMarkedPart(page, 'accuracy', accuracyInWords(readAccuracy())))
console.log(`\n${markedPart(await readFile(README, 'utf8'), 'accuracy')}`)

/** null where the folder has no clips. */
async function recorded(folder: string): Promise<RecordedClips | null> {
  const clips: ClipScore[] = []
  const failed: { name: string; detail: string }[] = []
  for (const clip of await clipsWithTruth(folder)) {
    const measured = await measuredClip(clip)
    if (measured.kind === 'failed') {
      failed.push({ name: clip.name, detail: measured.detail })
      console.log(`${clip.name.padEnd(22)} ${measured.detail}`)
      continue
    }
    const score =
      measured.kind === 'rides'
        ? scoreRide(clip.name, clip.truth, measured.rides[0]!.measured)
        : scoreDrop(clip.name, clip.truth, measured.drops[0]!)
    clips.push(score)
    console.log(`${clip.name.padEnd(22)} ${line(score)}`)
  }
  return clips.length + failed.length === 0
    ? null
    : { measuredOn: new Date().toISOString().slice(0, 10), clips, failed }
}

/** Errors in ms (times) and cm (places); `!` where the interval does not hold the truth. */
function line({ values, verdicts, footfalls, angleError95Deg }: ClipScore): string {
  return [
    ...Object.entries(values).map(([key, value]) =>
      value.state === 'measured'
        ? `${key.slice(0, -1)} ${((key.endsWith('M') ? 100 : 1000) * value.error).toFixed(1)}${value.isInside95 ? '' : '!'}`
        : `${key.slice(0, -1)} ${value.state}`,
    ),
    `angle ${angleError95Deg?.toFixed(3) ?? '-'}`,
    ...Object.entries(verdicts).map(([what, score]) => `${what} ${score}`),
    ...(footfalls === null ? [] : [`footfalls ${footfalls.matched}/${footfalls.wanted}/${footfalls.given}`]),
  ].join(', ')
}
