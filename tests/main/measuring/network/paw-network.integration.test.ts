import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { COLUMNS, CHANNELS } from '../../../../analysis/dog/paw-picture.ts'
import { openPawNetwork } from '../../../../main/measuring/network/open-paw-network.ts'
import { loadPawNetwork, PAW_WEIGHTS } from '../../../../main/measuring/network/paw-network.ts'
import { chooseTensorBackend } from '../../../../main/measuring/network/tensor-backend.ts'

const STEPS = 16
const values = new Uint8Array(readFileSync(new URL('./paw-network-known.bin', import.meta.url)))

/** What PyTorch computed: logits of the first two steps and eight columns, a map each, and in every step that the dog is on the plank. */
function computedByPyTorch(number: number): { readonly maps: number[][][]; readonly on: number[] } {
  const file = new URL(`./paw-network-known-${number}.json`, import.meta.url)
  return JSON.parse(readFileSync(file, 'utf8')) as { maps: number[][][]; on: number[] }
}

test.each([1, 2])(
  'with weights %i the network computes what the library that trained it computed (PyTorch 2.11)',
  async (number) => {
    const { maps: known, on: knownOn } = computedByPyTorch(number)
    const { core } = await chooseTensorBackend()
    const odds = await loadPawNetwork(core, PAW_WEIGHTS[number - 1]!).look({ fromS: 0, steps: STEPS, values })
    for (const [map, logits] of [
      [odds.front, known[0]!],
      [odds.hind, known[1]!],
    ] as const) {
      logits.forEach((row, step) => {
        row.forEach((logit, column) => {
          const p = map[step * COLUMNS + column]!
          expect(Math.abs(p - 1 / (1 + Math.exp(-logit)))).toBeLessThan(0.01)
        })
      })
    }
    knownOn.forEach((logit, step) => {
      expect(Math.abs(odds.on[step]! - 1 / (1 + Math.exp(-logit)))).toBeLessThan(0.01)
    })
    // Of the maps of places only differences between columns are comparable: they are softmaxed.
    for (const [map, logits] of [
      [odds.lead, known[2]!],
      [odds.body, known[3]!],
    ] as const) {
      logits.forEach((row, step) => {
        row.forEach((logit, column) => {
          const seen = Math.log(map[step * COLUMNS + column]! / map[step * COLUMNS]!)
          expect(Math.abs(seen - (logit - row[0]!))).toBeLessThan(0.08 + 0.02 * Math.abs(logit - row[0]!))
        })
      })
    }
  },
)

test('a long stretch, looked at in pieces, gives what the whole gives', async () => {
  const network = await openPawNetwork()
  const row = COLUMNS * CHANNELS
  const steps = 1000
  const long = new Uint8Array(steps * row)
  for (let step = 0; step < steps; step++)
    long.set(values.subarray((step % STEPS) * row, ((step % STEPS) + 1) * row), step * row)
  const whole = await network.look({ fromS: 0, steps, values: long })
  const from = 800
  const tail = await network.look({ fromS: 0, steps: steps - from, values: long.subarray(from * row) })
  const at = 965 * COLUMNS
  const far = Math.max(
    ...Array.from({ length: 30 * COLUMNS }, (_, i) =>
      Math.abs(whole.front[at + i]! - tail.front[at - from * COLUMNS + i]!),
    ),
  )
  expect(far).toBeLessThan(0.02)
})

test('maps of places sum to one in every step, and a picture of nothing holds no paw', async () => {
  const network = await openPawNetwork()
  const odds = await network.look({ fromS: 0, steps: 24, values: new Uint8Array(24 * COLUMNS * CHANNELS) })
  const sums = Array.from({ length: 24 }, (_, s) =>
    odds.lead.subarray(s * COLUMNS, (s + 1) * COLUMNS).reduce((sum, p) => sum + p, 0),
  )
  expect(sums.every((sum) => Math.abs(sum - 1) < 1e-3)).toBe(true)
  expect(Math.max(...odds.front, ...odds.hind)).toBeLessThan(0.3)
})
