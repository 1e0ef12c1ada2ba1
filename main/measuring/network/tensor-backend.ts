import { createRequire } from 'node:module'
import { dirname, join } from 'node:path'
import type * as Core from '@tensorflow/tfjs-core'
import { tensorSelfTest } from './tensor-self-test.ts'

export type TensorCore = typeof Core
export type TensorBackendName = 'tfjs-node' | 'tfjs-wasm' | 'tfjs-cpu'

/** The machinery that runs the network, and why this one. */
export interface TensorBackendChoice {
  readonly backend: TensorBackendName
  readonly version: string
  /** In the order tried. */
  readonly considered: readonly ConsideredBackend[]
}

export interface ConsideredBackend {
  readonly backend: TensorBackendName
  readonly outcome: 'chosen' | 'absent' | 'refused' | 'not-needed'
  /** One sentence for people. */
  readonly why: string
}

const require = createRequire(import.meta.url)

/**
 * Sets up the first backend that loads and passes a known computation: tfjs-node, tfjs with wasm, tfjs in plain
 * JavaScript. The first two hold their thread while they compute.
 */
export async function chooseTensorBackend(): Promise<{ core: TensorCore; choice: TensorBackendChoice }> {
  const core = require('@tensorflow/tfjs-core') as TensorCore
  // Otherwise tfjs prints advertisements among our own output.
  core.enableProdMode()
  const considered: ConsideredBackend[] = []
  let chosen: TensorBackendName | null = null
  for (const { backend, load } of BACKENDS) {
    if (chosen !== null) {
      considered.push({ backend, outcome: 'not-needed', why: 'one before it passed the self-test' })
      continue
    }
    const outcome = await tryBackend(core, load)
    if (outcome.outcome === 'chosen') chosen = backend
    considered.push({ backend, ...outcome })
  }
  if (chosen === null) {
    throw new Error(
      `No tensor backend works: ${considered.map(({ backend, why }) => `${backend}: ${why}`).join('; ')}.`,
    )
  }
  return { core, choice: { backend: chosen, version: core.version_core, considered } }
}

/** Makes a backend known to the core and gives the name under which the core knows it; null when it is not installed. */
type Load = () => string | null

const BACKENDS: readonly { readonly backend: TensorBackendName; readonly load: Load }[] = [
  { backend: 'tfjs-node', load: loadNode },
  { backend: 'tfjs-wasm', load: loadWasm },
  { backend: 'tfjs-cpu', load: loadCpu },
]

async function tryBackend(core: TensorCore, load: Load): Promise<Pick<ConsideredBackend, 'outcome' | 'why'>> {
  try {
    const name = load()
    if (name === null) return { outcome: 'absent', why: 'the optional package is not installed' }
    if (!(await core.setBackend(name))) return { outcome: 'refused', why: 'it could not be started' }
    const wrong = await tensorSelfTest(core)
    if (wrong !== null) return { outcome: 'refused', why: wrong }
    return { outcome: 'chosen', why: 'the first that passed the self-test' }
  } catch (error) {
    return { outcome: 'refused', why: error instanceof Error ? (error.message.split('\n')[0] ?? '') : String(error) }
  }
}

function loadNode(): string | null {
  try {
    require.resolve('@tensorflow/tfjs-node')
  } catch {
    return null
  }
  require('@tensorflow/tfjs-node')
  return 'tensorflow'
}

function loadWasm(): string {
  const wasm = require('@tensorflow/tfjs-backend-wasm') as { setWasmPaths(prefix: string): void }
  wasm.setWasmPaths(join(dirname(require.resolve('@tensorflow/tfjs-backend-wasm')), '/'))
  return 'wasm'
}

function loadCpu(): string {
  require('@tensorflow/tfjs-backend-cpu')
  return 'cpu'
}
