import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { calls, type CallName, type Handlers, type Happening } from '../../../main/contract/calls.ts'
import { problem, success } from '../../../main/contract/outcome.ts'
import { openHandedFiles } from '../../../main/services/handed-files.ts'
import type { Services } from '../../../main/services/services.ts'

/** Services that answer every call with its name and input, have one clip with pictures, and tell what they are told to. */
export interface FakeServices extends Services {
  tell(happening: Happening): void
  readonly listeners: ReadonlySet<unknown>
  readonly picturesAskedFor: readonly string[]
}

export const FAKE_JPEG = new Uint8Array([0xff, 0xd8, 0xff, 0xd9])

export function fakeServices(folder: string, largestBytes = 1000): FakeServices {
  const listeners = new Set<(happening: Happening) => void>()
  const picturesAskedFor: string[] = []
  return {
    handlers: echoHandlers(),
    pictures: {
      jpeg: (clipId, size, index) => {
        picturesAskedFor.push(`${clipId} ${size} ${index}`)
        const isThere = clipId === 'clip-1' && index < 100
        return Promise.resolve(isThere ? success(FAKE_JPEG) : problem('not-found', 'There is no such picture.'))
      },
    },
    files: openHandedFiles(() => join(folder, 'uploads'), largestBytes),
    exports: { ready: () => null },
    onHappening: (listener) => {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
    isMeasuring: () => false,
    prepareFirstSample: () => Promise.resolve(),
    close: () => Promise.resolve(),
    tell: (happening) => listeners.forEach((listener) => listener(happening)),
    listeners,
    picturesAskedFor,
  }
}

function echoHandlers(): Handlers {
  const names = Object.keys(calls) as CallName[]
  const echo = (name: string) => (input: unknown) => Promise.resolve(success({ name, input }))
  return Object.fromEntries(names.map((name) => [name, echo(name)])) as unknown as Handlers
}

/** A temporary folder with a built window in it, and a file beside the window that nobody may have. */
export async function temporaryWindow(): Promise<{ folder: string; windowFolder: string; remove(): Promise<void> }> {
  const folder = await mkdtemp(join(tmpdir(), 'tiphold-hosts-'))
  const windowFolder = join(folder, 'window')
  await mkdir(join(windowFolder, 'assets'), { recursive: true })
  await writeFile(join(windowFolder, 'index.html'), '<!doctype html><title>Tiphold</title>')
  await writeFile(join(windowFolder, 'assets', 'index-1a2b.js'), 'document.title = "Tiphold"')
  await writeFile(join(folder, 'secret.txt'), 'a secret')
  return { folder, windowFolder, remove: () => rm(folder, { recursive: true, force: true }) }
}
