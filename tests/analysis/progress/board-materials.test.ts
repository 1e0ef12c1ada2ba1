import { expect, test } from 'vitest'
import { measured } from '../../../analysis/estimate.ts'
import { seededRandom } from '../../../analysis/numeric/random.ts'
import { boardMaterials, boardMaterialsInWords } from '../../../analysis/progress/board-materials.ts'
import type { SplitGroup } from '../../../analysis/progress/split.ts'

function board(name: string, fallS: number, bounceM?: number): SplitGroup {
  const level = (measure: string, value: number) => ({
    measure,
    level: measured(value, 0.02 * value),
    rides: 5,
    restsOn: [],
  })
  const levels = [level('dropTimeS', fallS), ...(bounceM === undefined ? [] : [level('bounceM', bounceM)])]
  return { name, rides: 5, rates: [], levels, restsOn: [] }
}

const HISTORY = [board('Home', 0.62), board('Old', 0.8), board('Club', 0.5), board('Quick', 0.36)]
const WORDS: Readonly<Record<string, string>> = { Home: 'Plywood', Old: 'wood', Club: 'aluminium', Quick: 'Aluminum' }
const wordOf = (name: string) => WORDS[name] ?? null

test('the chance of wood is that of two normal classes of one scatter', () => {
  // Bayes' rule for two normal classes (Hastie, Tibshirani and Friedman, The Elements of Statistical Learning, 2nd
  // edition 2009, section 4.3), worked by hand: one board a class, 0.8 and 0.4 s, asked of 0.7 s. Logarithms -0.2231,
  // -0.9163, -0.3567; variance of each class 0.14^2 twice and 0.02^2 twice = 0.0400.
  // Log odds (0.5596^2 - 0.1335^2) / (2 x 0.0400) = 3.691; chance 1 / (1 + e^-3.691) = 0.9757.
  const [told] = boardMaterials([board('Home', 0.8), board('Club', 0.4), board('New', 0.7)], wordOf)
  expect(told).toMatchObject({ board: 'New', entered: null, behavesLike: 'wood' })
  expect(told!.woodChance).toBeCloseTo(0.9757, 3)
})

test('a board between the two is not told, and one board of one kind alone tells nothing', () => {
  const [between] = boardMaterials([...HISTORY, board('New', 0.55)], wordOf)
  expect(between).toMatchObject({ board: 'New', behavesLike: null })
  expect(boardMaterialsInWords([between!])[0]).toContain('does not tell')
  expect(boardMaterials([board('Home', 0.6), board('New', 0.9)], wordOf)).toEqual([])
})

test('an entry that the behaviour contradicts is doubted, one that it bears out is not', () => {
  expect(boardMaterials(HISTORY, wordOf)).toEqual([])
  const wrong = boardMaterials([...HISTORY, board('Show', 0.85, 0.01)], (name) =>
    name === 'Show' ? 'aluminium' : wordOf(name),
  )
  expect(boardMaterialsInWords(wrong)).toEqual([
    'Show is entered as aluminium, but falls and bounces like the boards of wood: check its entry.',
  ])
})

test('of invented boards that are told nine in ten are told right', () => {
  const random = seededRandom(7)
  const draw = (name: string, isWood: boolean) =>
    board(
      name,
      (isWood ? 0.7 : 0.48) * Math.exp(0.14 * random.normal()),
      (isWood ? 0.03 : 0.06) * Math.exp(0.45 * random.normal()),
    )
  const told = Array.from({ length: 300 }, (_, k) => {
    const isWood = k % 2 === 0
    const boards = [draw('Home', true), draw('Old', true), draw('Club', false), draw('Quick', false)]
    const found = boardMaterials([...boards, draw('New', isWood)], wordOf).find((one) => one.board === 'New')
    return { found: found?.behavesLike ?? null, isWood }
  }).filter(({ found }) => found !== null)
  const right = told.filter(({ found, isWood }) => (found === 'wood') === isWood)
  expect(told.length).toBeGreaterThan(100)
  expect(right.length / told.length).toBeGreaterThan(0.9)
})
