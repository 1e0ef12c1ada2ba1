import type { CallName, Client, Happening, InputOf, ValueOf } from '../../main/contract/calls.ts'
import { type Outcome, problem } from '../../main/contract/outcome.ts'
import { uploadFile } from './upload-file.ts'

const CHANGEABLE = ['dogs', 'boards', 'clips', 'rides', 'settings'] as const

/** Speaks to the loopback host that this page came from; the cookie it set says who we are. */
export function loopbackClient(): Client {
  return { call, bringFile: uploadFile, listen: sharedHappenings() }
}

/** What a browser still sends of a page that is gone is 64 KiB at most, all such requests together, B. */
const LARGEST_OUTLIVING_BYTES = 30_000

async function call<Name extends CallName>(name: Name, input: InputOf<Name>): Promise<Outcome<ValueOf<Name>>> {
  const body = new TextEncoder().encode(JSON.stringify(input))
  try {
    const response = await fetch(`/call/${name}`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body,
      // What was entered last arrives though its page is closed meanwhile.
      keepalive: body.length <= LARGEST_OUTLIVING_BYTES,
    })
    return (await response.json()) as Outcome<ValueOf<Name>>
  } catch {
    return problem('failed', HOST_GONE)
  }
}

export const HOST_GONE = 'Tiphold does not answer any more. Start it again; everything up to now is kept.'

/** One stream from the host for all who listen; it is closed when the last of them stops. */
function sharedHappenings(): Client['listen'] {
  const listeners = new Set<(happening: Happening) => void>()
  let stream: EventSource | null = null

  function open(): EventSource {
    const opened = new EventSource('/happenings')
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
