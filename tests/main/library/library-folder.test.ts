import { join } from 'node:path'
import { expect, test } from 'vitest'
import { libraryFolderFor } from '../../../main/library/library-folder.ts'

test.each([
  ['linux', {}, '/home/kim/.local/share/Tiphold/Library'],
  ['linux', { XDG_DATA_HOME: '/data/kim' }, '/data/kim/Tiphold/Library'],
  ['linux', { XDG_DATA_HOME: 'relative' }, '/home/kim/.local/share/Tiphold/Library'],
  ['darwin', { XDG_DATA_HOME: '/data/kim' }, '/home/kim/Library/Application Support/Tiphold/Library'],
  ['win32', {}, join('/home/kim', 'AppData', 'Roaming', 'Tiphold', 'Library')],
  ['win32', { APPDATA: '/roaming' }, join('/roaming', 'Tiphold', 'Library')],
  ['linux', { TIPHOLD_LIBRARY: '/mine' }, '/mine'],
  ['linux', { TIPHOLD_LIBRARY: '' }, '/home/kim/.local/share/Tiphold/Library'],
] as const)('on %s with %j the library lies in %s', (platform, environment, folder) => {
  expect(libraryFolderFor(platform, environment, '/home/kim')).toBe(folder)
})
