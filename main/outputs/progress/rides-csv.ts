import type { Estimate } from '../../../analysis/estimate.ts'
import { MEASURES } from '../../../analysis/progress/measure-words.ts'
import { dayText, type SeasonRide } from '../../../analysis/progress/season.ts'
import { csvCell } from './csv-cell.ts'

/**
 * Rides as a table for a spreadsheet, a line each: comma-separated after RFC 4180, units in the headers, and no cell
 * that a spreadsheet would run as a formula. A lower bound stands in a column of its own; what is unknown is empty.
 *
 * @param feelOf how a board feels, s; absent where that is not known
 */
export function ridesCsv(
  rides: readonly SeasonRide[],
  feelOf: (board: string) => Estimate | undefined = () => undefined,
): string {
  const header = [
    'day',
    'board',
    'purpose',
    'surface',
    'entered by hand',
    'leaving',
    'up contact',
    'down contact',
    ...Object.keys(MEASURES).flatMap((measure) => {
      const [name, unit] = nameAndUnit(measure)
      return [`${name} (${unit})`, `${name} sd (${unit})`, `${name} at least (${unit})`]
    }),
    'board feel (s)',
  ]
  const lines = rides.map((ride) => [
    ride.day === null ? '' : dayText(ride.day),
    ride.board ?? '',
    ride.purpose ?? '',
    ride.surface ?? '',
    ride.byHand ? 'yes' : 'no',
    ride.leaving ?? '',
    ride.upZone ?? '',
    ride.downZone ?? '',
    ...Object.keys(MEASURES).flatMap((measure) => cellsOf(ride.measures[measure])),
    ride.board === null ? '' : cellsOf(feelOf(ride.board))[0]!,
  ])
  return [header, ...lines].map((line) => line.map(csvCell).join(',')).join('\r\n') + '\r\n'
}

function nameAndUnit(measure: string): [string, string] {
  const unit = /(Mps|Deg|M|S)$/.exec(measure)?.[1] ?? ''
  const plain = measure.slice(0, measure.length - unit.length)
  const words = plain.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`)
  return [words, { Mps: 'm/s', Deg: 'degrees', M: 'm', S: 's' }[unit] ?? '']
}

function cellsOf(estimate: Estimate | undefined): (string | number)[] {
  switch (estimate?.kind) {
    case 'measured':
      return [rounded(estimate.value), rounded(estimate.sd), '']
    case 'atLeast':
      return ['', '', rounded(estimate.value)]
    case 'withheld':
    case undefined:
      return ['', '', '']
  }
}

function rounded(value: number): number {
  return Number(value.toFixed(5))
}
