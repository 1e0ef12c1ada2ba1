import { buildApp } from './build-app.ts'
import { buildWindow } from './build-window.ts'

/** Builds everything that a packaged program is made of. */
await buildWindow(() => console.log('Building the window.'))
await buildApp(() => console.log('Building the program.'))
