import type { DogReport, Hint } from './report-parts.ts'

const COMMON = 'common practice'
const MOST = 3

/**
 * Careful hints for the next sessions; a coach who sees the dog knows better.
 *
 * @param report the numbers of a dog's season
 * @returns at most three, none when nothing calls for one
 */
export function hintsFor(report: Pick<DogReport, 'trends' | 'rates' | 'waitsOrCounts'>): Hint[] {
  const rate = (what: string) => report.rates.find((one) => one.what === what)
  const early = rate('early')
  const trend = (measure: string) => report.trends.find((one) => one.measure === measure)
  const hints: Hint[] = []
  const slower = trend('climbSpeedMps')
  const dropped = slower?.change && slower.change.after.value < slower.change.before.value
  if (slower !== undefined && (slower.verdict === 'falling' || dropped)) {
    hints.push({
      text: 'A dog that climbs slower than it used to may be sore or worried: have your vet look before you train on.',
      source: COMMON,
    })
  }
  if (early !== undefined && early.count >= 2) {
    if (report.waitsOrCounts.verdict === 'counts') {
      hints.push({
        text: 'It leaves by its own clock: practise staying until the landing on boards that fall at different speeds, slow ones first.',
        source: COMMON,
      })
    } else {
      hints.push({
        text: 'Pay the stay on the landed board before the release word, at a height and speed at which it succeeds; ask your coach.',
        source: COMMON,
      })
    }
  }
  const missed = rate('down-missed')
  if (missed !== undefined && missed.count >= 2) {
    hints.push({
      text: 'Work the end position alone, on a plank on the ground, before the next full rides; ask your coach.',
      source: COMMON,
    })
  }
  return hints.slice(0, MOST)
}
