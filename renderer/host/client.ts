import type { Client } from '../../main/contract/calls.ts'
import { BRIDGE_NAME, type HostBridge } from '../../main/contract/host-bridge.ts'
import { picturePath } from '../../main/contract/picture-paths.ts'
import { loopbackClient } from './loopback-client.ts'
import { openVisit } from './visit.ts'

/** The way to whichever host shows this window: the desktop shell's bridge if there is one, else the loopback host. */
export function openClient(): Client {
  const bridge = (globalThis as { [BRIDGE_NAME]?: HostBridge })[BRIDGE_NAME]
  return bridge === undefined ? loopbackClient(openVisit()) : bridgeClient(bridge)
}

function bridgeClient(bridge: HostBridge): Client {
  return {
    call: (name, input) => bridge.call(name, input),
    // The file stays where it is; only its place is told.
    async bringFile(file, onShareDone) {
      const outcome = await bridge.bringFile(file)
      if (outcome.ok) onShareDone(1)
      return outcome
    },
    pictureAddress: picturePath,
    saveExport: (exportId, fileName) => bridge.saveExport(exportId, fileName),
    listen: (onHappening) => bridge.listen(onHappening),
  }
}
