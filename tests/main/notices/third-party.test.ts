import { existsSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { runtimePackages } from '../../../main/notices/runtime-packages.ts'
import { NOTICES_PATH, thirdPartyNotices } from '../../../main/notices/third-party.ts'
import { ROOT } from '../../repository/source-files.ts'

const lockText = readFileSync(join(ROOT, 'package-lock.json'), 'utf8')

test('the notices are those of the packages in the lock file; if not, run `npm run notices`', () => {
  expect(readFileSync(join(ROOT, NOTICES_PATH), 'utf8')).toBe(thirdPartyNotices(ROOT))
})

test('every licence text that the notices name exists', () => {
  const named = [...thirdPartyNotices(ROOT).matchAll(/(?:main\/notices|node_modules)\/[^\s`|,]+/g)].map(
    ([path]) => path,
  )
  expect(named.length).toBeGreaterThan(20)
  expect(named.filter((path) => !existsSync(join(ROOT, path)))).toEqual([])
})

test('no package that is linked into the program binds it to more than notices', () => {
  const free =
    /^\(?(MIT|ISC|0BSD|CC0-1\.0|BSD-2-Clause|BSD-3-Clause|Apache-2\.0|OFL-1\.1|BlueOak-1\.0\.0)( (OR|AND) (MIT|CC0-1\.0|Apache-2\.0|OFL-1\.1))?\)?$/
  const binding = runtimePackages(lockText).filter(({ licence }) => !free.test(licence ?? ''))
  const names = [...new Set(binding.map(({ name }) => name.replace(/^@ffmpeg-installer\/.*/, '@ffmpeg-installer')))]
  // Two bring ffmpeg as a program of its own; the third states nothing and serves the download of one of them; png-js
  // states nothing either, but its LICENSE file is the MIT licence.
  expect(names.sort()).toEqual(['@ffmpeg-installer', 'ffmpeg-static', 'parse-cache-control', 'png-js'])
})

test('what only developers need is not listed', () => {
  const names = runtimePackages(lockText).map(({ name }) => name)
  expect(names).toContain('react')
  expect(names).toContain('@tensorflow/tfjs-node')
  expect(names).not.toContain('vitest')
  expect(names).not.toContain('@ffprobe-installer/ffprobe')
})
