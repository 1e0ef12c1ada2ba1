import { loadPawNetworks, type PawNetwork } from './paw-network.ts'
import { chooseTensorBackend } from './tensor-backend.ts'

let opened: Promise<PawNetwork> | null = null

/** The paw networks as one, loaded at first use and kept for the process; takes about 0.3 s. */
export function openPawNetwork(): Promise<PawNetwork> {
  opened ??= chooseTensorBackend().then(({ core }) => loadPawNetworks(core))
  return opened
}
