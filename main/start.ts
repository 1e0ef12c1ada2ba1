import { buildWindow } from './hosts/build/build-window.ts'
import { serveBrowser } from './hosts/start/serve-browser.ts'
import { startElectron } from './hosts/start/start-electron.ts'
import { readStartOptions, START_HELP, type StartOptions } from './hosts/start/start-options.ts'

/** `npm start`: opens Tiphold in Electron, or in a browser where Electron cannot. */
process.exit(await start(readStartOptions(process.argv.slice(2))))

async function start(options: StartOptions): Promise<number> {
  if (options.kind === 'help') {
    console.log(START_HELP)
    return 0
  }
  if (options.kind === 'wrong') {
    console.error(options.sentence)
    return 2
  }
  try {
    await buildWindow(() => console.log('Building the window; this takes some ten seconds and is done once.'))
  } catch (error) {
    console.error(`The window could not be built: ${error instanceof Error ? error.message : String(error)}`)
    return 1
  }
  if (options.kind === 'window') {
    const electron = await startElectron()
    if (electron.kind === 'ended') return electron.exitCode
    console.log(`Tiphold opens in a browser, because ${electron.why}.`)
  }
  return serveBrowser(options.kind !== 'address')
}
