import { expect, test } from 'vitest'
import { MadeOnDemand, type MakeJpegs } from '../../../../main/film/pictures/made-on-demand.ts'

/** Makes pictures named after their frame, each when it is let; notes what it was asked for. */
function maker() {
  const asked: string[] = []
  const stopped: string[] = []
  let letGo: () => void = () => undefined
  const make: MakeJpegs = async function* (clipId, indices, signal) {
    const name = `${clipId} ${indices.join(' ')}`
    asked.push(name)
    signal.addEventListener('abort', () => stopped.push(name))
    await new Promise<void>((resolve, reject) => {
      letGo = resolve
      signal.addEventListener('abort', () => reject(new Error('stopped')))
    })
    for (const index of indices) if (index < 100) yield { index, jpeg: Buffer.from(`${clipId}${index}`) }
  }
  return { make, asked, stopped, letGo: () => letGo() }
}

const never = new AbortController().signal
/** Everything that is ready to go on has gone on. */
const tick = () => new Promise((resolve) => setImmediate(resolve))

test('frames around the one asked for are made with it and need no second making', async () => {
  const { make, asked, letGo } = maker()
  const made = new MadeOnDemand(make, (_, newest) => [newest - 1, newest, newest + 1], 10)
  const first = made.get('a', 5, never)
  letGo()
  expect(String(await first)).toBe('a5')
  await tick()
  expect(String(await made.get('a', 6, never))).toBe('a6')
  expect(asked).toEqual(['a 4 5 6'])
})

test('what waits meanwhile is made together, the newest clip first', async () => {
  const { make, asked, letGo } = maker()
  const made = new MadeOnDemand(make, (_, __, wanted) => [...wanted].sort(), 10)
  const all = [made.get('a', 1, never), made.get('a', 2, never), made.get('b', 7, never), made.get('b', 8, never)]
  for (let k = 0; k < 3; k++) {
    letGo()
    await tick()
  }
  expect((await Promise.all(all)).map(String)).toEqual(['a1', 'a2', 'b7', 'b8'])
  expect(asked).toEqual(['a 1', 'b 7 8', 'a 2'])
})

test('a making is stopped when nobody wants any of its frames, and the next one begins', async () => {
  const { make, asked, stopped, letGo } = maker()
  const made = new MadeOnDemand(make, (_, newest) => [newest], 10)
  const stop = new AbortController()
  const given = made.get('a', 1, stop.signal)
  const other = made.get('a', 2, never)
  stop.abort(new Error('gone'))
  await expect(given).rejects.toThrow('gone')
  await tick()
  letGo()
  expect(String(await other)).toBe('a2')
  expect([asked, stopped]).toEqual([['a 1', 'a 2'], ['a 1']])
})

test('a frame that a damaged clip cannot give is null', async () => {
  const { make, letGo } = maker()
  const made = new MadeOnDemand(make, (_, newest) => [newest], 10)
  const frame = made.get('a', 100, never)
  letGo()
  expect(await frame).toBeNull()
})

test('a making that fails fails for those who wait for its frames, and the next one is tried', async () => {
  let tries = 0
  const make: MakeJpegs = async function* (_, [index]) {
    await tick()
    if (++tries === 1) throw new Error('no disk')
    yield { index: index!, jpeg: Buffer.from('ok') }
  }
  const made = new MadeOnDemand(make, (_, newest) => [newest], 10)
  await expect(made.get('a', 1, never)).rejects.toThrow('no disk')
  expect(String(await made.get('a', 1, never))).toBe('ok')
})

test('only so many pictures stay in memory, those used last', async () => {
  const asked: number[] = []
  const make: MakeJpegs = async function* (_, [index]) {
    asked.push(index!)
    await tick()
    yield { index: index!, jpeg: Buffer.from('x') }
  }
  const made = new MadeOnDemand(make, (_, newest) => [newest], 2)
  for (const index of [1, 2, 1, 3, 1, 2]) {
    await made.get('a', index, never)
    await tick()
  }
  expect(asked).toEqual([1, 2, 3, 2])
})
