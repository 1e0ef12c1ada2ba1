import type { Estimate } from '../../../analysis/estimate.ts'
import type { Comparison } from '../../../analysis/progress/compare.ts'
import { comparedInWords } from '../../../analysis/progress/compare-words.ts'
import type { ComparisonSaved } from '../../contract/seasons.ts'
import { jsonText } from '../../files/json-file.ts'
import { programVersion } from '../../program-version.ts'
import { comparisonPage } from '../report/comparison-page.tsx'
import { pageHtml } from '../report/page-html.tsx'
import { pagePdf } from '../report/page-pdf.ts'
import { csvCell } from './csv-cell.ts'

/** A comparison as `compare.json` holds it; its schema is `main/files/compare.schema.json`. */
export function comparisonFile(comparison: Comparison) {
  return { schema: 'tiphold.compare/1', program: { version: programVersion }, ...comparison } as const
}

/** One comparison as a file; all of them tell the same numbers. */
export async function comparisonBytes(comparison: Comparison, format: ComparisonSaved): Promise<Uint8Array> {
  switch (format) {
    case 'json':
      return new TextEncoder().encode(jsonText(comparisonFile(comparison)))
    case 'csv':
      return new TextEncoder().encode(comparisonCsv(comparison))
    case 'html':
      return new TextEncoder().encode(pageHtml(comparisonPage(comparison)))
    case 'pdf':
      return pagePdf(comparisonPage(comparison))
  }
}

/** A line for each rate and measure, in SI units; rates are shares of rides. What is not known is empty. */
function comparisonCsv({ sides, rates, measures }: Comparison): string {
  const names = sides.map(({ name }) => name)
  const head = [
    'what',
    'unit',
    ...names.flatMap((name) => [`${name}: rides`, name, `${name} low 95 %`, `${name} high 95 %`]),
    ...['difference', 'difference low 95 %', 'difference high 95 %', 'verdict'],
  ]
  const rateLines = rates.map(({ what, difference, verdict }) => [
    comparedInWords(what),
    'share of rides',
    ...sides.flatMap((side) => {
      const rate = side.rates.find((one) => one.what === what)
      if (rate === undefined) return ['', '', '', '']
      return [rate.of, rate.of === 0 ? '' : rate.count / rate.of, ...rate.ci95]
    }),
    ...cellsOf(difference),
    verdict,
  ])
  const measureLines = measures.map(({ what, difference, verdict }) => [
    comparedInWords(what),
    /Mps$/.test(what) ? 'm/s' : /Deg$/.test(what) ? 'degrees' : /M$/.test(what) ? 'm' : 's',
    ...sides.flatMap((side) => {
      const level = side.levels.find(({ measure }) => measure === what)
      return [level?.rides ?? 0, ...(level === undefined ? ['', '', ''] : cellsOf(level.level))]
    }),
    ...cellsOf(difference),
    verdict,
  ])
  const lines = [head, ...rateLines, ...measureLines]
  return lines.map((line) => line.map(rounded).map(csvCell).join(',')).join('\r\n') + '\r\n'
}

function cellsOf(estimate: Estimate): (string | number)[] {
  return estimate.kind === 'measured' ? [estimate.value, ...estimate.ci95] : ['', '', '']
}

function rounded(value: string | number): string | number {
  return typeof value === 'number' ? Number(value.toFixed(5)) : value
}
