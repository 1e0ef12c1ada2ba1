import { loadPawNetwork, type PawNetwork } from './paw-network.ts'
import { chooseTensorBackend } from './tensor-backend.ts'

let opened: Promise<PawNetwork> | null = null

/** The paw network, loaded at first use and kept for the process; takes about 0.2 s. */
export function openPawNetwork(): Promise<PawNetwork> {
  opened ??= chooseTensorBackend().then(({ core }) => loadPawNetwork(core))
  return opened
}
