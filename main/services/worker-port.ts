/** The worker's end of the line to the process that started it. */
export interface WorkerPort {
  post(message: unknown): void
  onMessage(listener: (message: unknown) => void): void
}

/** What Electron's utility processes have in the place of Node's own channel. */
interface ParentPort {
  postMessage(message: unknown): void
  on(event: 'message', listener: (event: { readonly data: unknown }) => void): void
}

/** Opens the line in a process that was started by a `StartWorkerProcess`. The process ends when its parent is gone. */
export function openWorkerPort(): WorkerPort {
  const parentPort = (process as unknown as { readonly parentPort?: ParentPort }).parentPort
  if (parentPort !== undefined) {
    return {
      post: (message) => parentPort.postMessage(message),
      onMessage: (listener) => parentPort.on('message', ({ data }) => listener(data)),
    }
  }
  if (process.send === undefined) throw new Error('This program is a part of Tiphold and is started by it.')
  process.on('disconnect', () => process.exit())
  return {
    post: (message) => void process.send?.(message),
    onMessage: (listener) => void process.on('message', listener),
  }
}
