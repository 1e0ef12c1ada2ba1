import { expect, test } from 'vitest'
import type { Client, Happening } from '../../../main/contract/calls.ts'
import { success } from '../../../main/contract/outcome.ts'
import { askUntilCurrent } from '../../../renderer/host/ask-until-current.ts'

/** A host that answers with how often it was asked, and tells something before each answer. */
function host(told: (asked: number) => Happening | null) {
  const listeners = new Set<(happening: Happening) => void>()
  let asked = 0
  const client = {
    call: () => {
      asked++
      const happening = told(asked)
      if (happening !== null) listeners.forEach((listener) => listener(happening))
      return Promise.resolve(success(asked))
    },
    listen: (listener: (happening: Happening) => void) => {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
  } as unknown as Client
  return { client, listeners }
}

const ask = (client: Client) => askUntilCurrent(client, 'rides.get', { rideId: 'ride-1' })

test('what was changed while the answer was on the way is asked for again', async () => {
  const { client, listeners } = host((asked) => (asked === 1 ? { kind: 'changed', what: 'rides' } : null))
  expect(await ask(client)).toBe(2)
  expect(listeners.size).toBe(0)
})

test('a change that the answer does not show asks for nothing', async () => {
  const { client } = host(() => ({ kind: 'changed', what: 'packs' }))
  expect(await ask(client)).toBe(1)
})

test('where something changes all the time, an answer is given all the same', async () => {
  const { client } = host(() => ({ kind: 'changed', what: 'rides' }))
  expect(await ask(client)).toBe(5)
})
