import { exitCodes } from './command.ts'

/** How long what runs may take to stop before the process ends anyway, ms. */
const graceMs = 2000

/** The reason with which a cancelled measurement stops. */
export class Cancelled extends Error {
  constructor() {
    super('cancelled')
    this.name = 'Cancelled'
  }
}

/** A signal that is aborted when the user presses Ctrl-C or the system asks the process to end; a second time ends it at once. */
export function cancelledByUser(): AbortSignal {
  const controller = new AbortController()
  const cancel = () => {
    if (controller.signal.aborted) process.exit(exitCodes.cancelled)
    controller.abort(new Cancelled())
    setTimeout(() => process.exit(exitCodes.cancelled), graceMs).unref()
  }
  process.on('SIGINT', cancel)
  process.on('SIGTERM', cancel)
  return controller.signal
}
