import { adviceFor } from '../../analysis/board-physics/advice.ts'
import type { fitBoard } from '../../analysis/board-physics/board-fit.ts'
import { dropCurve } from '../../analysis/board-physics/drop-curve.ts'
import { physicsOf } from '../../analysis/board-physics/physics-of.ts'
import { predictFall, weightTest } from '../../analysis/board-physics/weight-test.ts'
import type { Estimate } from '../../analysis/estimate.ts'
import { seededRandom } from '../../analysis/numeric/random.ts'
import { ruleSetOf } from '../../analysis/rules/rule-sets.ts'
import { filmedDrop, randomBoard, trueFallS, trulyReturns, withFastened, type Filming } from './simulated-board.ts'

export type SimulatedCase = 'one-weight' | 'two-weights' | 'weight-and-plank'

/** One simulated board held against what is told of it. */
export function judgeSimulated(kind: SimulatedCase, rules: 'uk' | 'fci' | 'akc', seed: number, fit: typeof fitBoard) {
  const random = seededRandom(seed)
  const truth = randomBoard(random)
  const { board } = truth
  const filming: Filming = {
    rateHz: [25, 30, 50, 60][Math.floor(4 * random.uniform())]!,
    noiseDeg: 0.03 + 0.12 * random.uniform(),
    eventSdS: 0.01 + 0.02 * random.uniform(),
  }
  const drop = ruleSetOf(rules)!.drop!.says
  const massAtM = board.lengthM - board.contactM / 2
  const masses = massesFor(kind, (kg) => Number.isFinite(trueFallS(truth, kg, massAtM)))
  const curves = masses.map((kg) => {
    const { events, frames, moved } = filmedDrop(truth, kg, massAtM, filming, random)
    const timed = { fallFromPlacedS: null, fallFromReleasedS: null }
    return dropCurve({ massKg: kg, massAtM, ...events, ...timed, moved, ...frames }, board.lengthM)
  })
  const fitted = fit(curves, board, kind === 'weight-and-plank' ? truth.plankKg : null)
  const test = weightTest(drop, board, curves)
  const now = predictFall(fitted, test, board)
  const advice = adviceFor(fitted, test, now, board)
  const clockS = drop.timedFrom === 'released' ? 0 : 0.4
  const fallOf = (changed: typeof truth) => clockS + trueFallS(changed, test.massKg, test.massAtM)
  const lands = (fallS: number) => fallS >= (test.leastS ?? 0) && fallS <= test.mostS
  const trueS = fallOf(truth)
  const physics = physicsOf(fitted)
  return {
    truth,
    now,
    trueS,
    fallInside: now.fallS.kind === 'measured' ? inside(now.fallS, trueS) : null,
    fallWidthS: now.fallS.kind === 'measured' ? now.fallS.ci95[1] - now.fallS.ci95[0] : null,
    inertiaInside: inside(physics.inertiaKgM2, truth.inertiaKgM2),
    biasInside: inside(physics.biasTorqueNm, truth.biasTorqueNm),
    coulombInside: inside(physics.coulombNm, truth.coulombNm),
    viscousInside: inside(physics.viscousNms, truth.viscousNms),
    inertiaWidth:
      physics.inertiaKgM2.kind === 'measured'
        ? (physics.inertiaKgM2.ci95[1] - physics.inertiaKgM2.ci95[0]) / truth.inertiaKgM2
        : null,
    verdict: now.verdict === trueVerdict(trueS, test) ? 'right' : now.verdict === 'too-close' ? 'open' : 'wrong',
    needsAdvice: !lands(trueS),
    withheld: advice.withheld?.reason ?? null,
    options: advice.options.map((option) => {
      const changed = withFastened(truth, option.massKg, option.atM)
      const fallS = fallOf(changed)
      return {
        ...option,
        trueS: fallS,
        lands: lands(fallS),
        returns: trulyReturns(changed),
        inside: inside(option.fallS, fallS),
      }
    }),
  }
}

/** Weights that people have, the lightest that moves the board and the next; with one weight the 1 kg of the rule books. */
function massesFor(kind: SimulatedCase, moves: (kg: number) => boolean): readonly number[] {
  if (kind === 'one-weight') return [1]
  const moving = [1, 1.5, 2, 3, 4].filter(moves)
  return kind === 'weight-and-plank' ? moving.slice(0, 1) : [moving[0]!, moving[Math.min(2, moving.length - 1)]!]
}

function inside(estimate: Estimate, truth: number): boolean | null {
  if (estimate.kind === 'atLeast') return truth >= estimate.value
  return estimate.kind === 'measured' ? truth >= estimate.ci95[0] && truth <= estimate.ci95[1] : null
}

function trueVerdict(fallS: number, { leastS, mostS }: { leastS: number | null; mostS: number }): string {
  if (!Number.isFinite(fallS)) return 'never-moves'
  return fallS > mostS ? 'too-slow' : fallS < (leastS ?? 0) ? 'too-fast' : 'within'
}
