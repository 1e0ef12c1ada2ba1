import { execFile } from 'node:child_process'
import { readFile, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { promisify } from 'node:util'
import { pathToFileURL } from 'node:url'
import { expect, test } from 'vitest'
import { openStoreFile } from '../../../main/library/store-file.ts'
import { testFolder } from './things.ts'

/**
 * Runs a script in which the module `electron` is a stand-in with an app, as in Electron's main process. The store
 * itself is the real electron-store.
 */
async function asInElectron(folder: string, script: string): Promise<string> {
  const standIn = `export default {
    app: { getPath: () => ${JSON.stringify(join(folder, 'user-data'))}, getVersion: () => '9.9.9' },
    ipcMain: { on() {} },
  }`
  const hooks = `export async function resolve(name, context, next) {
    if (name !== 'electron') return next(name, context)
    return { url: ${JSON.stringify(`data:text/javascript,${encodeURIComponent(standIn)}`)}, shortCircuit: true }
  }`
  const path = join(folder, 'script.mjs')
  await writeFile(
    path,
    `import { register } from 'node:module'
    register(${JSON.stringify(`data:text/javascript,${encodeURIComponent(hooks)}`)})
    const { openStoreFile } = await import(${JSON.stringify(pathToFileURL(join(import.meta.dirname, '../../../main/library/store-file.ts')).href)})
    const store = await openStoreFile(${JSON.stringify(folder)}, 'library', true)
    ${script}`,
  )
  return (await promisify(execFile)(process.execPath, ['--import', import.meta.resolve('tsx'), path])).stdout
}

test('inside Electron the store reads what was written outside it, and the other way round', async () => {
  const folder = await testFolder()
  await (await openStoreFile(folder, 'library')).write({ format: 1, settings: { units: 'metric' } })
  const outside = await readFile(join(folder, 'library.json'), 'utf8')
  const read = await asInElectron(folder, 'console.log(JSON.stringify(store.read())); await store.write(store.read())')
  expect(JSON.parse(read)).toEqual({ format: 1, settings: { units: 'metric' } })
  expect(await readFile(join(folder, 'library.json'), 'utf8')).toBe(outside)
  await asInElectron(folder, `await store.write({ format: 1, 'a.b': 2 })`)
  expect({ ...(await openStoreFile(folder, 'library')).read() }).toEqual({ format: 1, 'a.b': 2 })
})

test('a damaged file is an error, and stays as it is', async () => {
  const folder = await testFolder()
  await writeFile(join(folder, 'library.json'), '{"format":')
  await expect(openStoreFile(folder, 'library')).rejects.toThrow(SyntaxError)
  expect(await readFile(join(folder, 'library.json'), 'utf8')).toBe('{"format":')
})
