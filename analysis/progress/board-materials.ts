import { materialOf, type Material } from '../board/material.ts'
import { isMeasured } from '../words/in-words.ts'
import type { Estimate } from '../estimate.ts'
import type { Split, SplitGroup } from './split.ts'

/** What a board behaves like under one dog, beside the other boards of its history. */
export interface BoardMaterial {
  readonly board: string
  /** As its entry says; null where it names neither. */
  readonly entered: Material | null
  /** null where its behaviour does not tell. */
  readonly behavesLike: Material | null
  /** Probability that it is of wood, 0 to 1, even chances beforehand. */
  readonly woodChance: number
}

/**
 * What is looked at, and how much boards of one material differ in it (1 sd of the logarithm, our judgement: a fall
 * differs by a seventh with balance and weight, a bounce by half with the ground).
 */
const SHOWN = [
  { measure: 'dropTimeS', withinLogSd: 0.14 },
  { measure: 'bounceM', withinLogSd: 0.45 },
] as const

/** Less sure than this is not told. */
const TOLD_FROM = 0.9
/** An entry is doubted only when its board behaves so clearly like the other material. */
const DOUBTED_FROM = 0.95

/**
 * Tells wood from aluminium by how boards fall and bounce: each board is compared with the others whose material is
 * entered (two normal classes of one scatter, the class means as well known as their boards make them).
 *
 * Wood is heavier, falls more slowly and lands softer (common practice, no source), but nothing of that is assumed:
 * only the boards of the history tell.
 *
 * @param boards one dog's rides, a group for each board
 * @param materialWord what a board's entry says it is made of
 * @returns boards whose behaviour tells their material, and those whose entry it contradicts
 */
export function boardMaterials(
  boards: readonly SplitGroup[],
  materialWord: (board: string) => string | null,
): readonly BoardMaterial[] {
  const all = boards.map((group) => ({ group, entered: materialOf(materialWord(group.name)) }))
  return all.flatMap(({ group, entered }): BoardMaterial[] => {
    const others = all.filter((one) => one.group !== group)
    const ofMaterial = (material: Material) => others.flatMap((one) => (one.entered === material ? [one.group] : []))
    const woodChance = chanceOfFirst(group, ofMaterial('wood'), ofMaterial('aluminium'))
    if (woodChance === null) return []
    const surety = Math.max(woodChance, 1 - woodChance)
    const like: Material = woodChance > 0.5 ? 'wood' : 'aluminium'
    const behavesLike = surety >= TOLD_FROM ? like : null
    if (entered !== null && (behavesLike === null || behavesLike === entered || surety < DOUBTED_FROM)) return []
    return [{ board: group.name, entered, behavesLike, woodChance }]
  })
}

/**
 * The same from a season that was told apart.
 *
 * @param splits of one dog's season
 * @param materialWord what a board's entry says it is made of
 * @returns none for rides on a single board
 */
export function materialsIn(
  splits: readonly Split[],
  materialWord: (board: string) => string | null,
): readonly BoardMaterial[] {
  return boardMaterials(splits.find(({ by }) => by === 'board')?.groups ?? [], materialWord)
}

/** null where neither fall nor bounce is known of it and of boards of both kinds. */
function chanceOfFirst(board: SplitGroup, first: readonly SplitGroup[], second: readonly SplitGroup[]): number | null {
  let logOdds = 0
  let isTold = false
  for (const { measure, withinLogSd } of SHOWN) {
    const own = logLevel(board, measure)
    const [one, other] = [first, second].map((groups) => classMean(groups, measure, withinLogSd))
    if (own === null || one == null || other == null) continue
    isTold = true
    const logDensity = ({ value, variance }: LogLevel) => {
      const total = withinLogSd ** 2 + own.variance + variance
      return -0.5 * Math.log(total) - (0.5 * (own.value - value) ** 2) / total
    }
    logOdds += logDensity(one) - logDensity(other)
  }
  return isTold ? 1 / (1 + Math.exp(-logOdds)) : null
}

interface LogLevel {
  readonly value: number
  readonly variance: number
}

function logLevel({ levels }: SplitGroup, measure: string): LogLevel | null {
  const level: Estimate | undefined = levels.find((one) => one.measure === measure)?.level
  if (level === undefined || !isMeasured(level) || level.value <= 0) return null
  return { value: Math.log(level.value), variance: (level.sd / level.value) ** 2 }
}

/** The mean of a class from its boards, and how well it is known. */
function classMean(groups: readonly SplitGroup[], measure: string, withinLogSd: number): LogLevel | null {
  const known = groups.flatMap((group) => logLevel(group, measure) ?? [])
  if (known.length === 0) return null
  const weights = known.map(({ variance }) => 1 / (withinLogSd ** 2 + variance))
  const total = weights.reduce((sum, weight) => sum + weight, 0)
  return { value: known.reduce((sum, { value }, k) => sum + (weights[k]! / total) * value, 0), variance: 1 / total }
}

/**
 * What boards behave like, in words.
 *
 * @param materials of the boards of one dog's history
 * @returns a sentence for each board
 */
export function boardMaterialsInWords(materials: readonly BoardMaterial[]): readonly string[] {
  return materials.map(({ board, entered, behavesLike }) => {
    if (behavesLike === null)
      return `How ${board} falls and bounces does not tell whether it is of wood or of aluminium.`
    if (entered === null)
      return `${board} falls and bounces like the boards of ${behavesLike}; enter what it is made of, if you know.`
    return `${board} is entered as ${entered}, but falls and bounces like the boards of ${behavesLike}: check its entry.`
  })
}
