import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { contrast } from './contrast.ts'

const text = readFileSync(join(import.meta.dirname, '../../../renderer/figures/tokens.css'), 'utf8')
const pairs = [...text.matchAll(/--([\w-]+): light-dark\((#[0-9a-f]{6}), (#[0-9a-f]{6})\);/g)]
const themes = {
  light: new Map(pairs.map(([, name, light]) => [name!, light!])),
  dark: new Map(pairs.map(([, name, , dark]) => [name!, dark!])),
}
const grounds = ['paper', 'paper-raised', 'paper-sunk']

test('contrast is as WCAG defines it', () => {
  expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 6)
  // W3C, Understanding success criterion 1.4.3: #767676 on white is the lightest grey that passes.
  expect(contrast('#767676', '#ffffff')).toBeCloseTo(4.54, 2)
})

describe.each(Object.entries(themes))('in the %s theme', (_, colours) => {
  const colour = (name: string): string => {
    const value = colours.get(name)
    if (value === undefined) throw new Error(`tokens.css has no --${name}`)
    return value
  }
  const lowest = (names: readonly string[], on: readonly string[]): [string, number] => {
    const ratios = names.flatMap((name) =>
      on.map((ground): [string, number] => [`${name} on ${ground}`, contrast(colour(name), colour(ground))]),
    )
    return ratios.reduce((a, b) => (b[1] < a[1] ? b : a))
  }

  test('everything that is read stands out at 4.5 to 1 or more', () => {
    const lowestPairs = [
      lowest(['ink', 'ink-soft', 'accent', 'zone-ink', 'front', 'hind', 'good', 'bad', 'unsure'], grounds),
      lowest(['on-accent'], ['accent', 'accent-strong']),
      lowest(['ink', 'ink-soft', 'zone-ink'], ['zone-soft']),
      lowest(['ink', 'ink-soft'], ['tilt-soft', 'accent-soft']),
      lowest(['ink'], ['dog']),
    ]
    expect(lowestPairs.filter(([, ratio]) => ratio < 4.5)).toEqual([])
  })

  test('borders of controls, drawn lines and the focus ring stand out at 3 to 1 or more', () => {
    const lowestPair = lowest(['edge', 'zone', 'front', 'hind', 'tilt', 'sound', 'focus'], grounds)
    expect([lowestPair].filter(([, ratio]) => ratio < 3)).toEqual([])
  })

  test('ink is darker or lighter than the ground by far, so that small text is read outdoors', () => {
    expect(contrast(colour('ink'), colour('paper'))).toBeGreaterThanOrEqual(12)
  })
})
