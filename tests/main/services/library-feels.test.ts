import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { type Estimate, measured, withheld } from '../../../analysis/estimate.ts'
import { seededRandom } from '../../../analysis/numeric/random.ts'
import { showcheckCommand } from '../../../main/cli/showcheck-command.ts'
import { NO_SESSION } from '../../../main/contract/sessions.ts'
import { libraryFeels } from '../../../main/services/library-feels.ts'
import { filmedDrop, type TrueBoard, trueFallS } from '../../simulated-boards/simulated-board.ts'
import { clubBoard, juno, meadowClip, testFolder, testLibrary } from '../library/things.ts'

const shape = { lengthM: 3.66, widthM: 0.3, pivotHeightM: 0.61, contactM: 0.914 }
const AT_M = 3.203
const quick: TrueBoard = {
  board: shape,
  plankKg: 12,
  inertiaKgM2: 13.4,
  biasTorqueNm: 7,
  coulombNm: 0.4,
  viscousNms: 2,
  restRad: -0.3166,
  groundRad: 0.3166,
}
const slow: TrueBoard = { ...quick, plankKg: 24, inertiaKgM2: 27, viscousNms: 12 }
const filming = { rateHz: 30, noiseDeg: 0.04, eventSdS: 0.015 }

/** A clip of the library in which two drops of a board were measured. */
function tested(id: string, truth: TrueBoard, seed: number) {
  const random = seededRandom(seed)
  const [drop, ...furtherDrops] = [1, 2].map((massKg) => {
    const filmed = filmedDrop(truth, massKg, AT_M, filming, random)
    const unseen: Estimate = withheld('not-seen', 'Not seen.')
    const measures = { fallFromPlacedS: unseen, fallFromReleasedS: unseen, bounceM: unseen }
    return { ...filmed, clip: `${id}.mp4`, measures, notes: [] }
  })
  return { ...meadowClip, id, path: `/films/${id}.mp4`, drop: { boardId: id, drop: drop!, furtherDrops } }
}

async function libraryOfTwoBoards(folder: string) {
  const library = await testLibrary(folder)
  await library.dogs.put(juno)
  for (const [id, truth] of [
    ['quick', quick],
    ['slow', slow],
  ] as const) {
    await library.boards.put({ ...clubBoard, id, name: `The ${id} one`, shape })
    await library.clips.put(tested(id, truth, id.length))
  }
  return library
}

/** What a dog of 10 kg in the middle of the down contact meets, s: by the simulation's own integrator. */
const feltS = (truth: TrueBoard) => trueFallS(truth, 10, AT_M)

test('boards with drop tests feel as their physics says', async () => {
  const library = await libraryOfTwoBoards(await testFolder())
  const feels = await libraryFeels(library)
  for (const [id, truth] of [
    ['quick', quick],
    ['slow', slow],
  ] as const) {
    const { feelS } = feels.get(id)!
    if (feelS.kind !== 'measured') throw new Error('the feel is not known')
    expect(feelS.ci95[0]).toBeLessThan(feltS(truth))
    expect(feelS.ci95[1]).toBeGreaterThan(feltS(truth))
  }
})

test('a show check by the command takes the fall on a board that the dog has not been on from how both feel', async () => {
  const folder = await testFolder()
  const library = await libraryOfTwoBoards(folder)
  const random = seededRandom(7)
  for (let k = 0; k < 8; k++) {
    const tip = 2 + 0.02 * random.normal()
    const grounded = tip + 0.5 + 0.01 * random.normal()
    const at = (timeS: number) => measured(timeS, 0.008)
    await library.noted.put({
      id: `ride-${k}`,
      dogId: juno.id,
      boardId: 'quick',
      session: { ...NO_SESSION, day: `2026-05-${10 + k}` },
      note: '',
      origin: 'file',
      facts: {
        events: { tipStart: at(tip), grounded: at(grounded), left: at(grounded + 0.4 + 0.05 * random.normal()) },
        leaving: { verdict: 'after-ground' },
      },
    })
  }
  await library.close()
  const outDir = join(folder, 'out')
  const asked = { kind: 'showcheck', dog: 'Juno', board: 'The slow one', rules: 'uk' } as const
  expect(await showcheckCommand({ ...asked, libraryFolder: folder, outDir })).toMatchObject({ exitCode: 0 })
  const { sentences } = JSON.parse(readFileSync(join(outDir, 'showcheck.json'), 'utf8')) as { sentences: string[] }
  // Falls under one dog go as the boards' feels do: that of 0.5 s is longer on the slow board by as much.
  const [, said] = /([0-9.]+) s/.exec(sentences.find((sentence) => sentence.includes('feel')) ?? '') ?? []
  expect(Math.abs(Number(said) - (0.5 * feltS(slow)) / feltS(quick))).toBeLessThan(0.03)
})
