import { PassThrough, type Readable } from 'node:stream'
import type { Happening } from '../../contract/calls.ts'

/** Silence is broken this often, so that a dead line is noticed. */
const HEARTBEAT_MS = 15_000

/** A visitor who reads no more must not fill our memory. */
const MOST_WAITING_BYTES = 4 * 2 ** 20

/** Happenings as Server-Sent Events, from now until the stream is destroyed. */
export function happeningStream(onHappening: (listener: (happening: Happening) => void) => () => void): Readable {
  const stream = new PassThrough()
  stream.write(':\n\n')
  const heartbeat = setInterval(() => write(':\n\n'), HEARTBEAT_MS)
  const stop = onHappening((happening) => write(`data: ${JSON.stringify(happening)}\n\n`))
  stream.on('close', () => {
    clearInterval(heartbeat)
    stop()
  })
  return stream

  function write(text: string): void {
    if (stream.writableLength > MOST_WAITING_BYTES) stream.destroy()
    else stream.write(text)
  }
}
