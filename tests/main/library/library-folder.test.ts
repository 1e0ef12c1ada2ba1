import { join } from 'node:path'
import { expect, test } from 'vitest'
import { libraryFolderFor } from '../../../main/library/library-folder.ts'

test.each([
  ['linux', {}, '/people/kim/.local/share/Tiphold/Library'],
  ['linux', { XDG_DATA_HOME: '/data/kim' }, '/data/kim/Tiphold/Library'],
  ['linux', { XDG_DATA_HOME: 'relative' }, '/people/kim/.local/share/Tiphold/Library'],
  ['darwin', { XDG_DATA_HOME: '/data/kim' }, '/people/kim/Library/Application Support/Tiphold/Library'],
  ['win32', {}, join('/people/kim', 'AppData', 'Roaming', 'Tiphold', 'Library')],
  ['win32', { APPDATA: '/roaming' }, join('/roaming', 'Tiphold', 'Library')],
  ['linux', { TIPHOLD_LIBRARY: '/mine' }, '/mine'],
  ['linux', { TIPHOLD_LIBRARY: '' }, '/people/kim/.local/share/Tiphold/Library'],
] as const)('on %s with %j the library lies in %s', (platform, environment, folder) => {
  expect(libraryFolderFor(platform, environment, '/people/kim')).toBe(folder)
})
