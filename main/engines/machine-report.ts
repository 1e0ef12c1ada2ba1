import { availableParallelism, totalmem } from 'node:os'
import type { TensorBackendChoice } from '../network/tensor-backend.ts'
import { openAnimalFinder } from '../network/open-finder.ts'
import { programVersion } from '../program-version.ts'
import { type ElectronState, electronState } from './electron-binary.ts'
import { chooseFfmpeg, type Considered, type FfmpegChoice, NoFfmpegError } from './ffmpeg-choice.ts'

/** What this machine brings to a measurement. */
export interface MachineReport {
  readonly schema: 'tiphold.doctor/1'
  readonly program: { readonly version: string }
  readonly machine: {
    readonly node: string
    readonly platform: string
    readonly architecture: string
    readonly cores: number
    readonly memoryGiB: number
  }
  readonly ffmpeg: ({ readonly kind: 'found' } & FfmpegChoice) | FfmpegMissing
  readonly network: NetworkState
  readonly electron: ElectronState
}

interface FfmpegMissing {
  readonly kind: 'missing'
  readonly why: string
  readonly considered: readonly Considered[]
}

export type NetworkState =
  | { readonly kind: 'ready'; readonly backend: TensorBackendChoice; readonly lookMs: number }
  | { readonly kind: 'unavailable'; readonly why: string }

/** Tries out everything that a measurement rests on; takes about a second. */
export async function reportMachine(): Promise<MachineReport> {
  const [ffmpeg, network] = await Promise.all([ffmpegState(), networkState()])
  return {
    schema: 'tiphold.doctor/1',
    program: { version: programVersion },
    machine: {
      node: process.versions.node,
      platform: process.platform,
      architecture: process.arch,
      cores: availableParallelism(),
      memoryGiB: Math.round(totalmem() / 2 ** 30),
    },
    ffmpeg,
    network,
    electron: electronState(),
  }
}

async function ffmpegState(): Promise<MachineReport['ffmpeg']> {
  try {
    return { kind: 'found', ...(await chooseFfmpeg()) }
  } catch (error) {
    if (!(error instanceof NoFfmpegError)) throw error
    return { kind: 'missing', why: error.message, considered: error.considered }
  }
}

/** The first look warms the network up; the second is timed. */
async function networkState(): Promise<NetworkState> {
  const outcome = await openAnimalFinder()
  if (outcome.kind === 'unavailable') return outcome
  const { finder } = outcome
  const grey = { rgb: new Uint8Array(1280 * 720 * 3).fill(128), widthPx: 1280, heightPx: 720 }
  await finder.find(grey)
  const startMs = performance.now()
  await finder.find(grey)
  const lookMs = Math.round(performance.now() - startMs)
  await finder.close()
  return { kind: 'ready', backend: finder.backend, lookMs }
}
