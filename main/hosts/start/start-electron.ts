import { spawn } from 'node:child_process'
import { electronState } from '../../film/engines/electron-binary.ts'
import { buildApp } from '../build/build-app.ts'
import { ROOT } from '../build/source-stamp.ts'
import { untilInterrupted } from './interrupted.ts'
import { hasScreen } from './open-browser.ts'

export type ElectronStart =
  | { readonly kind: 'ended'; readonly exitCode: number }
  /** Why there is no window of Electron, to go after "because". */
  | { readonly kind: 'refused'; readonly why: string }

/** How long Electron may take until its window is there, ms. */
const PATIENCE_MS = 30_000

/** Shows the window in Electron until it is closed, or says why Electron cannot. */
export async function startElectron(): Promise<ElectronStart> {
  const state = electronState()
  if (state.kind === 'not-installed') return { kind: 'refused', why: 'Electron is not installed' }
  if (state.kind === 'no-binary') return { kind: 'refused', why: 'the binary of Electron has not been downloaded' }
  if (!hasScreen(process.platform, process.env)) return { kind: 'refused', why: 'this machine has no screen' }
  await buildApp(() => console.log('Building the program.'))
  return runElectron(state.path)
}

function runElectron(binary: string): Promise<ElectronStart> {
  const environment = { ...process.env }
  // Some editors set it; Electron would then be plain Node.
  delete environment['ELECTRON_RUN_AS_NODE']
  return new Promise((resolve) => {
    const child = spawn(binary, [ROOT], { stdio: ['ignore', 'inherit', 'inherit', 'ipc'], env: environment })
    let isReady = false
    const patience = setTimeout(() => child.kill('SIGKILL'), PATIENCE_MS)
    // Ctrl-C reaches Electron as well, which closes as if by a click and may ask first.
    let isInterrupted = false
    void untilInterrupted().then(() => {
      isInterrupted = true
      child.kill()
    })
    child.on('message', () => {
      isReady = true
      clearTimeout(patience)
    })
    child.on('error', (error) => resolve({ kind: 'refused', why: `Electron cannot be started (${error.message})` }))
    child.on('exit', (code, signal) => {
      clearTimeout(patience)
      if (isReady || isInterrupted) return resolve({ kind: 'ended', exitCode: code ?? 1 })
      resolve({ kind: 'refused', why: `Electron ended before its window was there (${signal ?? `exit code ${code}`})` })
    })
  })
}
