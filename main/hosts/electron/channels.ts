/** The names of the lines between the shell and its preload script. */
export const CHANNELS = {
  call: 'tiphold:call',
  bringFile: 'tiphold:bring-file',
  saveExport: 'tiphold:save-export',
  happening: 'tiphold:happening',
} as const

/** Where the window lives; the shell's own protocol serves it. */
export const WINDOW_ORIGIN = 'app://tiphold'
