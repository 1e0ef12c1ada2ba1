import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { runInNewContext } from 'node:vm'
import { expect, test } from 'vitest'
import { ROOT, sourceFiles } from './source-files.ts'
import { type WorkedExample, workedExamples } from './worked-examples.ts'

const examples = sourceFiles('analysis').flatMap(workedExamples)

test('the analysis has worked examples', () => {
  expect(examples.length).toBeGreaterThan(8)
})

test.each(examples)('in $path $expression is what its docblock says', async (example) => {
  const answer = await answerOf(example)
  expect(answer).toHaveLength(example.wanted.length)
  const errors = answer.map((value, i) => Math.abs(value - example.wanted[i]!))
  expect(Math.max(...errors)).toBeLessThanOrEqual(example.tolerance * 1.000001)
})

test('an example is read with its answer and its precision', () => {
  const text = '/** @example dropM(0.2, -0.1) // 0.36, from 1.8 sin 0.2 */\n * @example corner([1]) // [2, -1.5]\n'
  expect(workedExamples({ path: 'a.ts', text })).toEqual([
    { path: 'a.ts', expression: 'dropM(0.2, -0.1)', wanted: [0.36], tolerance: 0.005 },
    { path: 'a.ts', expression: 'corner([1])', wanted: [2, -1.5], tolerance: 0.05 },
  ])
})

test('an example in words is left to people', () => {
  expect(workedExamples({ path: 'a.ts', text: '@example half of (1, 2) is (0.5, 1)' })).toEqual([])
})

async function answerOf({ path, expression }: WorkedExample): Promise<number[]> {
  const exports = (await import(/* @vite-ignore */ pathToFileURL(join(ROOT, path)).href)) as Record<string, unknown>
  const answer: unknown = runInNewContext(expression, { ...exports, Float64Array, Uint8Array, Math })
  return typeof answer === 'number' ? [answer] : Array.from(answer as ArrayLike<number>)
}
