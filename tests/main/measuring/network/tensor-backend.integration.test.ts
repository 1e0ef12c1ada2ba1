import { createRequire } from 'node:module'
import { expect, test } from 'vitest'
import { chooseTensorBackend, type TensorCore } from '../../../../main/measuring/network/tensor-backend.ts'
import { tensorSelfTest } from '../../../../main/measuring/network/tensor-self-test.ts'
import { needs } from '../../../report/needs.ts'

const require = createRequire(import.meta.url)

test('without tfjs-node the wasm backend is chosen and the reason is told', async (context) => {
  needs(context, 'a machine without @tensorflow/tfjs-node')
  const { core, choice } = await chooseTensorBackend()
  expect(core.getBackend()).toBe('wasm')
  expect(choice.backend).toBe('tfjs-wasm')
  expect(choice.considered.map(({ backend, outcome }) => `${backend} ${outcome}`)).toEqual([
    'tfjs-node absent',
    'tfjs-wasm chosen',
    'tfjs-cpu not-needed',
  ])
})

test('with tfjs-node it is chosen', async (context) => {
  needs(context, 'the package @tensorflow/tfjs-node')
  const { choice } = await chooseTensorBackend()
  expect(choice.backend).toBe('tfjs-node')
})

test('plain JavaScript passes the self-test too', async () => {
  const core = await plainCore()
  expect(await tensorSelfTest(core)).toBeNull()
})

test('a backend that computes wrong numbers fails the self-test', async () => {
  const core = await plainCore()
  const wrong = { ...core, relu: (x: unknown) => x } as TensorCore
  expect(await tensorSelfTest(wrong)).toMatch(/^it computed -1, 1, 5, 7,.* where 0, 1, 5, 7,.* is right$/)
})

async function plainCore(): Promise<TensorCore> {
  const core = require('@tensorflow/tfjs-core') as TensorCore
  require('@tensorflow/tfjs-backend-cpu')
  core.enableProdMode()
  await core.setBackend('cpu')
  return core
}
