import type { FrequencyChange, Share } from './frequency-change.ts'

const HAPPENS: Readonly<Record<FrequencyChange['what'], string>> = {
  early: 'leaves early',
  'up-missed': 'misses the up contact',
  'down-missed': 'misses the down contact',
  'criterion-met': 'meets its criterion',
  paused: 'pauses on the plank',
  'turned-back': 'turns back on the plank',
}

/**
 * What happens more or less often than at the start of a season.
 *
 * @param dog its name
 * @param change of one thing that is counted
 * @returns a sentence; null where no change is called
 */
export function frequencySentence(dog: string, { what, early, late, verdict }: FrequencyChange): string | null {
  if (verdict !== 'more' && verdict !== 'less') return null
  const halves = `on ${ofRides(early)} in the first half of the days, on ${ofRides(late)} in the second`
  return `${dog} ${HAPPENS[what]} ${verdict} often than at the start: ${halves}.`
}

/**
 * All that became more or less frequent, or that nothing did.
 *
 * @param dog its name
 * @param changes of all that is counted
 * @returns sentences; none where there are too few days, or all of it always or never happened
 */
export function frequenciesInWords(dog: string, changes: readonly FrequencyChange[]): readonly string[] {
  const called = changes.flatMap((change) => frequencySentence(dog, change) ?? [])
  if (called.length > 0 || !changes.some(mayChange)) return called
  return ['How often each of these happens did not clearly change over the season.']
}

function mayChange({ early, late, verdict }: FrequencyChange): boolean {
  const count = early.count + late.count
  return verdict !== 'too-few' && count > 0 && count < early.of + late.of
}

function ofRides({ count, of }: Share): string {
  return `${count} of ${of} ${of === 1 ? 'ride' : 'rides'}`
}
