import { cp, mkdir, readdir, readFile, rm, writeFile } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { ROOT, sourceStamp, unlessUpToDate } from './source-stamp.ts'

const APP_FOLDER = join(ROOT, 'out', 'app')
/** The figures are drawn in reports, too. */
const CODE = ['main', 'analysis', 'renderer/figures']
const PRELOAD = 'main/hosts/electron/preload.ts'

/**
 * Writes the program as JavaScript into out/app/, file by file and in the same folders, since Electron reads no
 * TypeScript. The preload script becomes one file that needs nothing but Electron, as the sandbox demands.
 */
export async function buildApp(onWork: () => void = () => undefined): Promise<void> {
  const stamp = await sourceStamp([...CODE, 'package.json'])
  await unlessUpToDate(join(ROOT, 'out', 'app.stamp'), stamp, async () => {
    onWork()
    await rm(APP_FOLDER, { recursive: true, force: true })
    for (const folder of CODE) await writeFolder(folder)
    await cp(join(ROOT, 'package.json'), join(APP_FOLDER, 'package.json'))
    await writePreload()
  })
}

/** Code becomes JavaScript, declarations nothing; pictures, schemas and texts that lie beside it are copied. */
async function writeFolder(folder: string): Promise<void> {
  const { default: ts } = await import('typescript')
  const options = {
    target: ts.ScriptTarget.ES2023,
    module: ts.ModuleKind.ESNext,
    verbatimModuleSyntax: true,
    rewriteRelativeImportExtensions: true,
    jsx: ts.JsxEmit.ReactJSX,
  }
  const entries = await readdir(join(ROOT, folder), { recursive: true, withFileTypes: true })
  for (const entry of entries.filter((entry) => entry.isFile() && !entry.name.endsWith('.d.ts'))) {
    const from = join(entry.parentPath, entry.name)
    const to = join(APP_FOLDER, from.slice(ROOT.length))
    await mkdir(dirname(to), { recursive: true })
    if (!/\.tsx?$/.test(from)) await cp(from, to)
    else {
      const code = ts.transpileModule(await readFile(from, 'utf8'), { compilerOptions: options, fileName: from })
      await writeFile(to.replace(/\.tsx?$/, '.js'), code.outputText)
    }
  }
}

async function writePreload(): Promise<void> {
  const { build } = await import('vite')
  await build({
    configFile: false,
    root: ROOT,
    logLevel: 'warn',
    build: {
      outDir: join(APP_FOLDER, dirname(PRELOAD)),
      emptyOutDir: false,
      copyPublicDir: false,
      minify: false,
      target: 'es2023',
      lib: { entry: join(ROOT, PRELOAD), formats: ['cjs'], fileName: () => 'preload.cjs' },
      rollupOptions: { external: ['electron'] },
    },
  })
}
