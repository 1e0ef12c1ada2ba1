import type { Estimate } from '../../../analysis/estimate.ts'
import type { Ride } from '../../../analysis/ride/ride.ts'

/** Where the numbers of a ride stand, by the names of `ride.json`. */
const GROUPS = ['events', 'measures'] as const

/**
 * The numbers of one ride for a spreadsheet, a line each: comma-separated after RFC 4180, SI units in the names as in
 * `ride.json`. What is not measured has its reason in a column of its own; no cell is run as a formula.
 */
export function numbersCsv(ride: Ride): string {
  const rows = GROUPS.flatMap((group) => {
    const named: [string, unknown][] = Object.entries(ride[group])
    return named.flatMap(([name, value]) => (isEstimate(value) ? [[group, name, ...cellsOf(value)]] : []))
  })
  const zones = [
    ['zones', 'up', ride.zones.up.verdict],
    ['zones', 'down', ride.zones.down.verdict],
    ['leaving', 'verdict', ride.leaving.verdict],
  ]
  const footfalls = ride.footfalls.flatMap(({ limb, alongM, fromS, toS }, k) =>
    Object.entries({ alongM, fromS, toS }).map(([name, value]) => [`footfall ${k + 1}, ${limb}`, name, String(value)]),
  )
  const head = ['group', 'name', 'value', 'sd', 'low 95 %', 'high 95 %', 'at least', 'why not']
  return [head, ...rows, ...zones, ...footfalls].map((line) => line.map(cell).join(',')).join('\r\n') + '\r\n'
}

function isEstimate(value: unknown): value is Estimate {
  return typeof value === 'object' && value !== null && 'kind' in value
}

function cellsOf(estimate: Estimate): readonly string[] {
  switch (estimate.kind) {
    case 'measured':
      return [estimate.value, estimate.sd, ...estimate.ci95].map(String)
    case 'atLeast':
      return ['', '', '', '', String(estimate.value)]
    case 'withheld':
      return ['', '', '', '', '', estimate.detail]
  }
}

function cell(text: string): string {
  const isNumber = text !== '' && Number.isFinite(Number(text))
  const harmless = !isNumber && /^[=+\-@\t\r]/.test(text) ? `'${text}` : text
  return /[",\r\n]/.test(harmless) ? `"${harmless.replaceAll('"', '""')}"` : harmless
}
