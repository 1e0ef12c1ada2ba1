import { contextBridge, ipcRenderer, webUtils } from 'electron'
import type { Happening } from '../../contract/calls.ts'
import { BRIDGE_NAME, type HostBridge } from '../../contract/host-bridge.ts'
import { CHANNELS } from './channels.ts'

/** All that the window gets of the shell. It runs in the sandbox, apart from the window's own scripts. */
const bridge = {
  call: (name: string, input: unknown) => ipcRenderer.invoke(CHANNELS.call, name, input),
  // The place goes straight to the shell; the window's scripts never see it.
  bringFile: (file: File) => ipcRenderer.invoke(CHANNELS.bringFile, webUtils.getPathForFile(file)),
  saveExport: (exportId: string, fileName: string) => ipcRenderer.invoke(CHANNELS.saveExport, exportId, fileName),
  listen(onHappening: (happening: Happening) => void) {
    const listener = (_event: unknown, happening: Happening) => onHappening(happening)
    ipcRenderer.on(CHANNELS.happening, listener)
    return () => {
      ipcRenderer.removeListener(CHANNELS.happening, listener)
    }
  },
} as HostBridge

contextBridge.exposeInMainWorld(BRIDGE_NAME, bridge)
