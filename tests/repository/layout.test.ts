import { execFileSync } from 'node:child_process'
import { readFileSync, statSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { ROOT } from './source-files.ts'

const tracked = execFileSync('git', ['ls-files', '-z'], { cwd: ROOT, encoding: 'utf8' }).split('\0').filter(isPresent)

test('the top level holds the six folders, the two guides and what tools insist on', () => {
  const folders = ['analysis', 'main', 'renderer', 'sample-clips', 'tests']
  const files = ['DEVELOPERS.md', 'LICENSE', 'README.md', 'package.json', 'package-lock.json', 'tsconfig.json']
  const top = [...new Set(tracked.map((path) => path.split('/')[0] ?? ''))]
  const odd = top.filter((name) => ![...folders, ...files].includes(name) && !/^\.|\.config\.[jt]s$/.test(name))
  expect(odd).toEqual([])
})

test('no file names a place on one machine', () => {
  const place = new RegExp(['/work', '/home', '/Users', '/root'].map((folder) => `["'\`( ]${folder}/\\w`).join('|'))
  const texts = tracked.filter((path) => /\.(ts|tsx|js|mjs|json|md|yml|html|css)$/.test(path))
  expect(texts.length).toBeGreaterThan(30)
  expect(texts.filter((path) => place.test(readFileSync(join(ROOT, path), 'utf8')))).toEqual([])
})

test('no file that is kept is larger than 2 MiB', () => {
  expect(tracked.filter((path) => statSync(join(ROOT, path)).size > 2 * 2 ** 20)).toEqual([])
})

test('packages that may fail to install are optional, and the lock file keeps them', () => {
  const lock = JSON.parse(readFileSync(join(ROOT, 'package-lock.json'), 'utf8')) as {
    packages: Record<string, { optional?: boolean }>
  }
  const kept = ['ffmpeg-static', '@tensorflow/tfjs-node'].map((name) => lock.packages[`node_modules/${name}`]?.optional)
  expect(kept).toEqual([true, true])
})

/** A file that was deleted and not yet committed is still listed. */
function isPresent(path: string): boolean {
  return path !== '' && statSync(join(ROOT, path), { throwIfNoEntry: false }) !== undefined
}
