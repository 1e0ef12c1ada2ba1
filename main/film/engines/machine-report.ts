import { availableParallelism, totalmem } from 'node:os'
import { CHANNELS, COLUMNS, STEP_S } from '../../../analysis/dog/paw-picture.ts'
import { loadPawNetworks } from '../../measuring/network/paw-network.ts'
import { chooseTensorBackend, type TensorBackendChoice } from '../../measuring/network/tensor-backend.ts'
import { programVersion } from '../../program-version.ts'
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

/** The network that reads paws; `lookMs` is for five seconds of a ride. */
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

/** The first look warms the paw network up; the second is timed. */
async function networkState(): Promise<NetworkState> {
  try {
    const { core, choice } = await chooseTensorBackend()
    const network = loadPawNetworks(core)
    const fiveSeconds = Math.round(5 / STEP_S)
    const nothing = { fromS: 0, steps: fiveSeconds, values: new Uint8Array(fiveSeconds * COLUMNS * CHANNELS) }
    await network.look(nothing)
    const startMs = performance.now()
    await network.look(nothing)
    return { kind: 'ready', backend: choice, lookMs: Math.round(performance.now() - startMs) }
  } catch (error) {
    return { kind: 'unavailable', why: error instanceof Error ? error.message : String(error) }
  }
}
