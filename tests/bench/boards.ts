/**
 * `npm run bench:boards [COUNT]`: boards of known physics, dropped as films would show them; how often the intervals hold
 * the truth, whether the verdicts are right, and whether the advice lands in the window.
 */
import { fitBoard } from '../../analysis/board-physics/board-fit.ts'
import { judgeSimulated, type SimulatedCase } from '../simulated-boards/judged-board.ts'

const count = Number(process.argv[2] ?? 60)
const CASES: readonly SimulatedCase[] = ['one-weight', 'two-weights', 'weight-and-plank']
const RULES = ['uk', 'akc'] as const

for (const rules of RULES) {
  for (const kind of CASES) {
    const all = Array.from({ length: count }, (_, k) => judgeSimulated(kind, rules, 1000 + k, fitBoard))
    const share = (part: readonly (boolean | null)[]) => `${part.filter(Boolean).length} of ${part.length}`
    const of = <T>(pick: (one: (typeof all)[number]) => T | null) => all.map(pick).filter((value) => value !== null)
    console.log(`${rules} ${kind}`)
    console.log(
      `  inside the 95 % interval: fall ${share(of((o) => o.fallInside))}, inertia ${share(of((o) => o.inertiaInside))}, bias ${share(of((o) => o.biasInside))}, dry friction ${share(of((o) => o.coulombInside))}, viscous ${share(of((o) => o.viscousInside))}`,
    )
    const width = of((o) => o.fallWidthS).sort((a, b) => a - b)
    console.log(
      `  width of the fall's interval, median ${(width[width.length >> 1] ?? NaN).toFixed(3)} s; inertia ${(of((o) => o.inertiaWidth).sort((a, b) => a - b)[count >> 1] ?? NaN).toFixed(2)} of the truth`,
    )
    console.log(
      `  verdict right ${all.filter((o) => o.verdict === 'right').length}, open ${all.filter((o) => o.verdict === 'open').length}, wrong ${all.filter((o) => o.verdict === 'wrong').length}`,
    )
    const asked = all.filter((o) => o.needsAdvice)
    const given = asked.filter((o) => o.options.length > 0)
    console.log(
      `  advice: ${asked.length} boards need it, ${given.length} get it; first option lands ${share(given.map((o) => o.options[0]!.lands))}, any option ${share(given.flatMap((o) => o.options.map((x) => x.lands)))}, comes back ${share(given.flatMap((o) => o.options.map((x) => x.returns)))}; predicted fall inside ${share(given.flatMap((o) => o.options.map((x) => x.inside)))}; withheld: ${[...new Set(asked.flatMap((o) => o.withheld ?? []))].map((r) => `${r} ${asked.filter((o) => o.withheld === r).length}`).join(', ')}`,
    )
  }
}
