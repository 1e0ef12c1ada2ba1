import { fork } from 'node:child_process'
import { fileURLToPath } from 'node:url'
import { choiceHandedOn } from '../film/engines/ffmpeg-choice.ts'

/** A process of our own that works beside the one that answers the window. Messages are plain data. */
export interface WorkerProcess {
  post(message: unknown): void
  onMessage(listener: (message: unknown) => void): void
  /** Told once, also when it never came up; `code` is null when it was killed. */
  onExit(listener: (code: number | null) => void): void
  kill(): void
}

/**
 * Starts one of our program files as a process: its place is told as a file URL.
 * The program speaks through `openWorkerPort()`. Electron starts it in its own way.
 */
export type StartWorkerProcess = (entry: URL) => WorkerProcess

/** Under plain Node: a forked process, which ends with its parent. In a checkout it is TypeScript and gets its loader. */
export const forkWorkerProcess: StartWorkerProcess = (entry) => {
  const path = fileURLToPath(entry)
  // The machine's other cores are the window's: they are not to collect this process's garbage.
  const options = ['--single-threaded-gc', ...(path.endsWith('.ts') ? ['--import', import.meta.resolve('tsx')] : [])]
  const child = fork(path, [], {
    execArgv: options,
    env: { ...process.env, ...choiceHandedOn() },
    serialization: 'advanced',
    stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
  })
  return {
    post: (message) => {
      // A process that is gone hears nothing; its end is told by `onExit`.
      if (child.connected) child.send(message as object, () => undefined)
    },
    onMessage: (listener) => {
      child.on('message', listener)
    },
    onExit: (listener) => {
      const once = onlyOnce(listener)
      child.on('exit', (code) => once(code))
      child.on('error', () => once(null))
    },
    kill: () => {
      child.kill('SIGKILL')
    },
  }
}

function onlyOnce(listener: (code: number | null) => void): (code: number | null) => void {
  let isTold = false
  return (code) => {
    if (!isTold) listener(code)
    isTold = true
  }
}
