import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { type RuntimePackage, runtimePackages } from './runtime-packages.ts'

/** Where the notices are kept, from the project's root. */
export const NOTICES_PATH = 'main/notices/third-party.md'

/**
 * The third-party notices of a project whose packages are installed: what a packaged program holds, with which
 * licence texts, and every package with its licence. The same on every machine with the same lock file.
 */
export function thirdPartyNotices(root: string): string {
  const packages = runtimePackages(readFileSync(join(root, 'package-lock.json'), 'utf8'))
  const always = packages.filter(({ optional }) => !optional)
  const sometimes = packages.filter(({ optional }) => optional)
  return [
    PACKAGING,
    "## Packages that always run\n\nText: the file that holds the licence, from the project's root.\n",
    table(
      ['Package', 'Version', 'Licence as stated', 'Text'],
      always.map((one) => [...cells(one), licenceText(root, one)]),
    ),
    "\n## Packages that run where npm could install them\n\nText: in the package's own folder, or the licence's common text.\n",
    table(['Package', 'Version', 'Licence as stated'], sometimes.map(cells)),
    '',
  ].join('\n')
}

const PACKAGING = `# Third-party notices

Written by \`npm run notices\`; a test fails when it is out of date. Do not edit.

Tiphold itself is under the MIT licence (\`LICENSE\`).

## What a packaged program holds, with which text

| Part | Licence | Text that goes with it |
| --- | --- | --- |
| ffmpeg, as a program file of its own beside ours, never linked into it: the one of ffmpeg-static, else of @ffmpeg-installer | GPL-3.0-or-later (both are built with GPL and version-3 parts) | \`main/notices/licence-texts/gpl-3.0.txt\`, and a note with the build's version and where its source is offered: the home page that the package names |
| Electron and Chromium | MIT and others | \`LICENSE\` and \`LICENSES.chromium.html\` from Electron's own folder |
| TensorFlow.js: core, backends | Apache-2.0 | \`main/notices/licence-texts/apache-2.0.txt\` |
| All other packages below, in the window's script or beside it | as listed | the files listed |

The program starts ffmpeg as a separate process and talks to it through pipes; TIPHOLD_FFMPEG puts any other ffmpeg in its place. ffprobe, Chromium for tests and everything that only developers need are not packaged.
`

function cells({ name, version, licence }: RuntimePackage): string[] {
  return [name, version, licence ?? 'not stated']
}

function licenceText(root: string, { folder, licence }: RuntimePackage): string {
  const path = join(root, folder)
  const own = existsSync(path)
    ? readdirSync(path)
        .sort()
        .find((name) => /^(licen[cs]e|copying)/i.test(name))
    : undefined
  if (own !== undefined) return `${folder}/${own}`
  if (licence === 'Apache-2.0') return 'main/notices/licence-texts/apache-2.0.txt'
  return 'none in the package'
}

function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  return [head, head.map(() => '---'), ...rows].map((row) => `| ${row.join(' | ')} |`).join('\n')
}
