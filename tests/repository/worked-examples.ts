import type { SourceFile } from './source-files.ts'

/** A docblock's example that a machine can check: `@example median([3, 1, 2]) // 2`. */
export interface WorkedExample {
  readonly path: string
  readonly expression: string
  /** One number, or those of a list. */
  readonly wanted: readonly number[]
  /** Half a unit of the last digit written, the coarsest of a list. */
  readonly tolerance: number
}

/** The examples of a file that are a call with a number or a list of numbers as its answer; words may follow it. */
export function workedExamples({ path, text }: SourceFile): WorkedExample[] {
  const lines = text.matchAll(/@example (\w+\(.*\)) \/\/ (\[[-\d., e]+\]|-?\d[\d.e-]*)(?=[\s,;]|$)/gm)
  return [...lines].map(([, expression = '', answer = '']) => {
    const numbers = answer.replace(/[[\]\s]/g, '').split(',')
    return { path, expression, wanted: numbers.map(Number), tolerance: Math.max(...numbers.map(halfUnit)) }
  })
}

/** 0.005 for "0.36"; a whole number is meant exactly. */
function halfUnit(written: string): number {
  const decimals = /\.(\d+)$/.exec(written)?.[1]?.length ?? 0
  return decimals === 0 ? 1e-9 : 0.5 * 10 ** -decimals
}
