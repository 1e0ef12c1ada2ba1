import { spawn } from 'node:child_process'
import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

/** A browser that shows the page as a window of its own. */
export interface AppWindow {
  /** Settles when the window was closed, with how long it was there. */
  readonly closed: Promise<{ readonly shownS: number }>
  close(): Promise<void>
}

/** Opens the address in a window without the browser's own bars, with a profile of its own that is thrown away after it. */
export async function openAppWindow(browser: string, address: string): Promise<AppWindow> {
  const profile = await mkdtemp(join(tmpdir(), 'tiphold-window-'))
  const args = [`--app=${address}`, `--user-data-dir=${profile}`, '--window-size=1360,860']
  const quietly = ['--no-first-run', '--no-default-browser-check', '--disable-background-networking', '--disable-sync']
  const startedMs = performance.now()
  const child = spawn(browser, [...args, ...quietly], { stdio: 'ignore' })
  const closed = new Promise<{ shownS: number }>((resolve) => {
    const tell = () => resolve({ shownS: (performance.now() - startedMs) / 1000 })
    child.once('exit', tell)
    child.once('error', tell)
  })
  return {
    closed,
    async close() {
      child.kill()
      await closed
      await rm(profile, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 })
    },
  }
}

/** Hands the address to the browser that this user likes; false if there is no way to. */
export function openDefaultBrowser(address: string): Promise<boolean> {
  const [program, args] = opener(process.platform, address)
  return new Promise((resolve) => {
    const child = spawn(program, args, { stdio: 'ignore' })
    child.once('error', () => resolve(false))
    child.once('exit', (code) => resolve(code === 0))
  })
}

function opener(platform: NodeJS.Platform, address: string): [string, string[]] {
  if (platform === 'darwin') return ['open', [address]]
  if (platform === 'win32') return ['rundll32', ['url.dll,FileProtocolHandler', address]]
  return ['xdg-open', [address]]
}

/** False on a Linux machine where nobody looks at a screen. */
export function hasScreen(
  platform: NodeJS.Platform,
  environment: Readonly<Record<string, string | undefined>>,
): boolean {
  const isBare = (name: string) => (environment[name] ?? '') === ''
  return platform === 'win32' || platform === 'darwin' || !(isBare('DISPLAY') && isBare('WAYLAND_DISPLAY'))
}
