import { describe, expect, test } from 'vitest'
import type { Board } from '../../../analysis/board/board.ts'
import { picturedSizes, type PictureSizes } from '../../../analysis/board-sizes/picture-sizes.ts'
import type { Estimate } from '../../../analysis/estimate.ts'
import { seededRandom } from '../../../analysis/numeric/random.ts'
import { type SimulatedSeesaw, simulatedSeesaw } from '../calibration/simulated-seesaw.ts'

const COUNT = 24
const degrees = 180 / Math.PI
const seesaws = Array.from({ length: COUNT }, (_, k) => simulatedSeesaw(seededRandom(4100 + k)))
/** Wrong on purpose: the true boards have zones of 0.914 m and pivots of 0.6 to 0.68 m. */
const ENTERED = { pivotHeightM: 0.58, contactM: 1.067 }

function sizesOf({ board, marks, picture }: SimulatedSeesaw, entered: Partial<Board> = ENTERED): PictureSizes {
  const sizes = picturedSizes({ board: { ...board, ...entered }, marks, picture, options: {} })
  if (sizes === null) throw new Error('the marks fit no board')
  return sizes
}

function holds(estimate: Estimate, truth: number): boolean {
  return estimate.kind === 'measured' && estimate.ci95[0] <= truth && truth <= estimate.ci95[1]
}

describe('sizes from clicked points, with zones and height entered wrong', () => {
  const sizes = seesaws.map((seesaw) => sizesOf(seesaw))

  // 95 % intervals: of 24, fewer than 20 hold the truth less than once in 100 times (binomial).
  test.each<[string, (sizes: PictureSizes) => Estimate, (seesaw: SimulatedSeesaw) => number]>([
    ['up contact', (one) => one.upContactM, ({ board }) => board.contactM],
    ['down contact', (one) => one.downContactM, ({ board }) => board.contactM],
    ['pivot height', (one) => one.pivotHeightM, ({ board }) => board.pivotHeightM],
    ['rest angle', (one) => one.restAngleDeg, ({ truth }) => truth.restAngleRad * degrees],
    ['swing', (one) => one.swingDeg, ({ truth }) => (truth.groundedAngleRad - truth.restAngleRad) * degrees],
  ])('%s: the intervals hold the truth', (_, told, truth) => {
    const inside = seesaws.filter((seesaw, k) => holds(told(sizes[k]!), truth(seesaw)))
    expect(inside.length).toBeGreaterThanOrEqual(20)
  })

  test('zones are told to 2 cm, heights to 4 cm', () => {
    const widest = (told: (sizes: PictureSizes) => Estimate) =>
      Math.max(...sizes.map((one) => (told(one) as { sd: number }).sd))
    expect(widest((one) => one.upContactM)).toBeLessThan(0.015)
    expect(widest((one) => one.pivotHeightM)).toBeLessThan(0.03)
  })

  test('what was entered for zones and height does not matter', () => {
    const right = sizesOf(seesaws[0]!, {})
    expect(right.upContactM.value).toBeCloseTo(sizes[0]!.upContactM.value, 3)
    expect(right.pivotHeightM.value).toBeCloseTo(sizes[0]!.pivotHeightM.value, 3)
  })
})

test('a length that is entered 2 % too large makes every size 2 % too large: pictures show proportions only', () => {
  const [seesaw] = seesaws
  const right = sizesOf(seesaw!, {})
  const large = sizesOf(seesaw!, { lengthM: 1.02 * seesaw!.board.lengthM })
  expect(large.upContactM.value / right.upContactM.value).toBeCloseTo(1.02, 2)
  expect(large.pivotHeightM.value / right.pivotHeightM.value).toBeCloseTo(1.02, 2)
})

test('without the exit end on the ground, as in a still photo, the height is hardly told and the swing not at all', () => {
  const [{ board, marks, picture }] = seesaws as [SimulatedSeesaw]
  const sizes = picturedSizes({ board, marks: { clip: marks.clip, rest: marks.rest }, picture, options: {} })!
  expect(sizes.swingDeg).toMatchObject({ kind: 'withheld', reason: 'never-landed' })
  // A camera that is held level to 2 deg tells the end 1.83 m out no better than to 6 cm.
  expect(sizes.pivotHeightM.sd).toBeGreaterThan(0.04)
  expect(holds(sizes.upContactM, board.contactM)).toBe(true)
})

test('marks that fit no board tell no sizes', () => {
  const [{ board, marks, picture }] = seesaws as [SimulatedSeesaw]
  const { pivot } = marks.rest
  const wrong = { ...marks, rest: { ...marks.rest, pivot: { xPx: pivot.xPx + 8, yPx: pivot.yPx - 40 } } }
  expect(picturedSizes({ board, marks: wrong, picture, options: {} })).toBeNull()
})
