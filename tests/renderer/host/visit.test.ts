import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { visitFragment } from '../../../main/contract/visit.ts'
import { openVisit } from '../../../renderer/host/visit.ts'

const VISIT = { askKey: 'a'.repeat(43), viewKey: 'v'.repeat(43) }
const replaceState = vi.fn()

/** A page at an address of one origin, whose storage outlives it. */
function openPage(hash: string, storage: Map<string, string>): void {
  vi.stubGlobal('location', { pathname: '/', hash })
  vi.stubGlobal('history', { replaceState })
  vi.stubGlobal('localStorage', {
    getItem: (name: string) => storage.get(name) ?? null,
    setItem: (name: string, value: string) => storage.set(name, value),
  })
}

beforeEach(() => replaceState.mockClear())
afterEach(() => vi.unstubAllGlobals())

test('the keys of a first visit are taken out of the address, and a reload and a second tab go on with them', () => {
  const storage = new Map<string, string>()
  openPage(visitFragment(VISIT), storage)
  expect(openVisit()).toEqual(VISIT)
  expect(replaceState).toHaveBeenCalledWith(null, '', '/')
  openPage('#/rides/ride-1', storage)
  expect(openVisit()).toEqual(VISIT)
  expect(replaceState).toHaveBeenCalledTimes(1)
})

test('a new visit takes the place of an old one', () => {
  const storage = new Map<string, string>()
  openPage(visitFragment({ ...VISIT, askKey: 'b'.repeat(43) }), storage)
  openVisit()
  openPage(visitFragment(VISIT), storage)
  openVisit()
  openPage('', storage)
  expect(openVisit()).toEqual(VISIT)
})

test.each(['', '#', '#/rides', '#visit=short.short', `#visit=${'a'.repeat(43)}`])(
  'a page that was opened at "%s" and was never told keys has none',
  (hash) => {
    openPage(hash, new Map())
    expect(openVisit()).toEqual({ askKey: '', viewKey: '' })
  },
)
