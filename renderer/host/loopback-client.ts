import type { CallName, Client, Happening, InputOf, ValueOf } from '../../main/contract/calls.ts'
import { exportPath } from '../../main/contract/exports.ts'
import { type Outcome, problem, success } from '../../main/contract/outcome.ts'
import { picturePath } from '../../main/contract/picture-paths.ts'
import { viewPath, type Visit, VISIT_HEADER } from '../../main/contract/visit.ts'
import { uploadFile } from './upload-file.ts'

const CHANGEABLE = ['dogs', 'boards', 'clips', 'rides', 'noted', 'packs', 'settings'] as const

/** Speaks to the loopback host that this page came from; the keys of its visit say who we are. */
export function loopbackClient(visit: Visit): Client {
  return {
    call: (name, input) => ask(visit, name, input),
    bringFile: (file, onShareDone, signal) => uploadFile(visit, file, onShareDone, signal),
    pictureAddress: (...picture) => viewPath(visit.viewKey, picturePath(...picture)),
    saveExport: (exportId, fileName) => download(viewPath(visit.viewKey, exportPath(exportId)), fileName),
    listen: sharedHappenings(viewPath(visit.viewKey, '/happenings')),
  }
}

/** The browser itself asks where to, or puts it where downloads go. */
function download(address: string, fileName: string): Promise<Outcome<{ readonly isSaved: boolean }>> {
  const link = document.createElement('a')
  link.href = address
  link.download = fileName
  document.body.append(link)
  link.click()
  link.remove()
  return Promise.resolve(success({ isSaved: true }))
}

/** What a browser still sends of a page that is gone is 64 KiB at most, all such requests together, B. */
const LARGEST_OUTLIVING_BYTES = 30_000

async function ask<Name extends CallName>(
  { askKey }: Visit,
  name: Name,
  input: InputOf<Name>,
): Promise<Outcome<ValueOf<Name>>> {
  const body = new TextEncoder().encode(JSON.stringify(input))
  try {
    const response = await fetch(`/call/${name}`, {
      method: 'POST',
      headers: { 'content-type': 'application/json', [VISIT_HEADER]: askKey },
      body,
      // What was entered last arrives though its page is closed meanwhile.
      keepalive: body.length <= LARGEST_OUTLIVING_BYTES,
    })
    return (await response.json()) as Outcome<ValueOf<Name>>
  } catch {
    return problem('failed', HOST_GONE)
  }
}

const HOST_GONE = 'Tiphold has stopped. Start it again; everything so far is saved.'

/** One stream from the host for all who listen; it is closed when the last of them stops. */
function sharedHappenings(address: string): Client['listen'] {
  const listeners = new Set<(happening: Happening) => void>()
  let stream: EventSource | null = null

  function open(): EventSource {
    const opened = new EventSource(address)
    let openings = 0
    opened.addEventListener('message', ({ data }: MessageEvent<string>) => tell(JSON.parse(data) as Happening))
    // What happened while the stream was cut is not told again: ask for everything anew.
    opened.addEventListener('open', () => {
      openings += 1
      if (openings > 1) for (const what of CHANGEABLE) tell({ kind: 'changed', what })
    })
    return opened
  }

  function tell(happening: Happening): void {
    for (const listener of listeners) listener(happening)
  }

  return (onHappening) => {
    const listener = (happening: Happening) => onHappening(happening)
    listeners.add(listener)
    stream ??= open()
    return () => {
      listeners.delete(listener)
      if (listeners.size > 0) return
      stream?.close()
      stream = null
    }
  }
}
