// Worker threads do not inherit the loader that runs TypeScript: this file brings it and then runs the real one.
import { workerData } from 'node:worker_threads'
import { register } from 'tsx/esm/api'

register()
await import(workerData.entry)
