import { expect, test } from 'vitest'
import { docblockOffences } from './docblocks.ts'
import { sourceFiles } from './source-files.ts'

test('every exported function of the analysis says what goes in and what comes out', () => {
  const files = sourceFiles('analysis')
  expect(files.length).toBeGreaterThan(5)
  expect(files.flatMap(docblockOffences)).toEqual([])
})

test('a function without a docblock is an offence', () => {
  expect(offences('export function dropM(angleRad: number): number { return angleRad }')).toEqual([
    'a.ts: dropM has no docblock',
  ])
})

test('a plain comment is no docblock', () => {
  expect(offences('// The drop at angleRad.\nexport const dropM = (angleRad: number) => angleRad')).toHaveLength(1)
})

test('a parameter that the docblock does not name is an offence', () => {
  const code = '/** The drop at an angle, m. */\nexport function dropM(angleRad: number): number { return angleRad }'
  expect(offences(code)).toEqual(['a.ts: the docblock of dropM does not name the parameter angleRad'])
})

test('a docblock that only tells what is done does not say what is returned', () => {
  const code = '/** Solves for `angleRad`. */\nexport function solve(angleRad: number): number { return angleRad }'
  expect(offences(code)).toEqual(['a.ts: the docblock of solve does not say what it returns'])
})

test.each([
  '/** The drop of the exit end at `angleRad`, m. */',
  '/** Solves for the drop.\n * @param angleRad board angle\n * @returns m, positive downwards */',
])('a docblock that names both is enough: %s', (docblock) => {
  expect(offences(`${docblock}\nexport function dropM(angleRad: number): number { return angleRad }`)).toEqual([])
})

test('functions that stay inside their file need no docblock', () => {
  expect(offences('function dropM(angleRad: number): number { return angleRad }')).toEqual([])
})

function offences(text: string): string[] {
  return docblockOffences({ path: 'a.ts', text })
}
