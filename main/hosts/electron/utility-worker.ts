import { fileURLToPath } from 'node:url'
import { utilityProcess } from 'electron'
import { choiceHandedOn } from '../../film/engines/ffmpeg-choice.ts'
import { type StartWorkerProcess } from '../../services/worker-process.ts'

/** Under Electron: a utility process, since a packaged Electron does not run as plain Node. It ends with the shell. */
export const startUtilityWorker: StartWorkerProcess = (entry) => {
  const child = utilityProcess.fork(fileURLToPath(entry), [], {
    serviceName: 'Tiphold measuring',
    env: { ...process.env, ...choiceHandedOn() },
  })
  return {
    post: (message) => child.postMessage(message),
    onMessage: (listener) => {
      child.on('message', listener)
    },
    onExit: (listener) => {
      child.once('exit', listener)
    },
    kill: () => {
      child.kill()
    },
  }
}
