import { execFile } from 'node:child_process'
import { mkdir, mkdtemp, rm, symlink, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { ROOT } from './source-files.ts'

const CONFIG = join(ROOT, 'dependency-cruiser.config.js')

interface Violation {
  readonly from: string
  readonly to: string
  readonly rule: { readonly name: string }
}

/** What the borders of this project object to in the sources below a folder. */
function violationsBelow(root: string, ...more: readonly string[]): Promise<readonly Violation[]> {
  const program = join(ROOT, 'node_modules/dependency-cruiser/bin/dependency-cruise.mjs')
  const folders = ['analysis', 'main', 'renderer', 'sample-clips', 'tests']
  const args = [program, '--config', CONFIG, '--output-type', 'json', ...more, ...folders]
  return new Promise((resolve, reject) => {
    execFile(process.execPath, args, { cwd: root, maxBuffer: 2 ** 28 }, (error, stdout, stderr) => {
      if (stdout === '') return reject(new Error(stderr, { cause: error }))
      const { summary } = JSON.parse(stdout) as { summary: { totalCruised: number; violations: readonly Violation[] } }
      if (summary.totalCruised < 3) return reject(new Error(`only ${summary.totalCruised} files were looked at`))
      resolve(summary.violations)
    })
  })
}

test('no file of the project imports across a border, and nothing imports in a circle', async () => {
  const violations = await violationsBelow(ROOT, '--cache', '--cache-strategy', 'content')
  expect(violations.map(({ rule, from, to }) => `${rule.name}: ${from} imports ${to}`)).toEqual([])
})

describe('the borders object', () => {
  const offences: readonly (readonly [rule: string, path: string, text: string])[] = [
    ['analysis-imports-only-itself', 'analysis/ride/node.ts', `import { readFileSync } from 'node:fs'`],
    ['analysis-imports-only-itself', 'analysis/ride/engine.ts', `import { a } from '../../main/contract/a.ts'`],
    ['analysis-imports-only-itself', 'analysis/ride/package.ts', `const zod = await import('zod')`],
    ['main-imports-no-window', 'main/film/media/window.ts', `export { a } from '../../../renderer/look/a.ts'`],
    ['main-imports-no-window', 'main/film/media/sample.ts', `import type { A } from '../../../sample-clips/a.ts'`],
    ['renderer-imports-no-program', 'renderer/look/engine.ts', `import { a } from '../../main/film/engines/a.ts'`],
    ['renderer-imports-no-node', 'renderer/look/node.ts', `import { readFileSync } from 'node:fs'`],
    ['renderer-imports-no-electron', 'renderer/look/electron.ts', `import { ipcRenderer } from 'electron'`],
    ['samples-share-no-measuring', 'sample-clips/measured.ts', `import { a } from '../analysis/a.ts'`],
    ['no-unknown-package', 'main/film/media/unknown.ts', `import { a } from 'a-package-that-nobody-installed'`],
    ['no-circle-of-files', 'main/film/media/one.ts', `import type { Two } from './two.ts'`],
    ['no-circle-of-folders', 'main/here/first.ts', `import { a } from '../there/a.ts'`],
    ['no-circle-of-folders', 'main/there/second.ts', `import { a } from '../here/a.ts'`],
  ]
  const allowed: readonly (readonly [path: string, text: string])[] = [
    ['analysis/ride/own.ts', `import { a } from '../a.ts'`],
    ['main/film/media/chosen.ts', `import { a } from '../engines/a.ts'`],
    ['main/film/media/node.ts', `import { spawn } from 'node:child_process'`],
    ['main/film/media/analysis.ts', `import { a } from '../../../analysis/a.ts'`],
    ['main/film/media/package.ts', `import { z } from 'zod'`],
    ['renderer/look/contract.ts', `import type { A } from '../../main/contract/a.ts'`],
    ['renderer/look/react.ts', `import { useState } from 'react'`],
    ['sample-clips/engine.ts', `import { a } from '../main/film/engines/a.ts'`],
    ['tests/all.ts', `import { a } from '../renderer/look/a.ts'\nimport { b } from '../main/film/engines/a.ts'`],
  ]
  const imported = ['analysis', 'main/contract', 'main/film/engines', 'main/here', 'main/there', 'renderer/look']
  let root: string
  let violations: readonly Violation[]

  beforeAll(async () => {
    root = await mkdtemp(join(tmpdir(), 'tiphold-borders-'))
    const nothing = [...imported, 'sample-clips'].map((folder) => [`${folder}/a.ts`, 'export const a = 1'] as const)
    const closingACircle = [['main/film/media/two.ts', `import type { One } from './one.ts'`]] as const
    const offending = offences.map(([, path, text]) => [path, text] as const)
    for (const [path, text] of [...nothing, ...closingACircle, ...allowed, ...offending]) {
      await mkdir(dirname(join(root, path)), { recursive: true })
      await writeFile(join(root, path), `${text}\n`)
    }
    for (const name of ['node_modules', 'package.json', 'tsconfig.json'])
      await symlink(join(ROOT, name), join(root, name))
    violations = await violationsBelow(root)
  })

  afterAll(() => rm(root, { recursive: true, force: true }))

  test.each(offences)('by %s to %s: %s', (rule, path) => {
    const sources = [path, dirname(path)]
    expect(violations.some((violation) => violation.rule.name === rule && sources.includes(violation.from))).toBe(true)
  })

  test.each(allowed)('not to %s: %s', (path) => {
    expect(violations.filter(({ from }) => from === path)).toEqual([])
  })
})
