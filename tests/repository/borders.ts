import { posix } from 'node:path'
import ts from 'typescript'
import type { SourceFile } from './source-files.ts'

/** Which folders a file of each top folder may import from, and whether it may import packages. */
const BORDERS: Readonly<Record<string, { readonly from: readonly string[]; readonly packages: RegExp | null }>> = {
  analysis: { from: ['analysis/'], packages: null },
  main: { from: ['main/', 'analysis/', 'renderer/figures/'], packages: /./ },
  renderer: { from: ['renderer/', 'analysis/', 'main/contract/'], packages: /^(?!node:|electron$)/ },
  'sample-clips': { from: ['sample-clips/', 'main/engines/'], packages: /./ },
  tests: { from: ['tests/', 'analysis/', 'main/', 'renderer/', 'sample-clips/'], packages: /./ },
}

/** Each import that crosses a border, as a sentence. */
export function borderCrossings(files: readonly SourceFile[]): string[] {
  return files.flatMap(({ path, text }) => {
    const home = path.split('/')[0] ?? ''
    const border = BORDERS[home]
    if (border === undefined) return [`${path} lies in ${home}, for which no border is laid down`]
    const imports = ts.preProcessFile(text, true, true).importedFiles.map((imported) => imported.fileName)
    return imports
      .filter((name) => {
        if (!name.startsWith('.')) return border.packages === null || !border.packages.test(name)
        const target = posix.join(posix.dirname(path), name)
        return !border.from.some((folder) => target.startsWith(folder))
      })
      .map((name) => `${path} imports ${name}, which lies beyond the border of ${home}`)
  })
}
