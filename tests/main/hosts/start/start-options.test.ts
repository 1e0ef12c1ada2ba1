import { expect, test } from 'vitest'
import { browserPlaces } from '../../../../main/hosts/start/find-browser.ts'
import { hasScreen } from '../../../../main/hosts/start/open-browser.ts'
import { readStartOptions } from '../../../../main/hosts/start/start-options.ts'

test.each([
  [[], 'window'],
  [['--browser'], 'browser'],
  [['--no-open'], 'address'],
  [['--browser', '--no-open'], 'address'],
  [['--no-open', '--help'], 'help'],
])('%j shows: %s', (args, kind) => {
  expect(readStartOptions(args).kind).toBe(kind)
})

test('an unknown option is named, and so are those that there are', () => {
  expect(readStartOptions(['--borwser'])).toEqual({
    kind: 'wrong',
    sentence: 'Unknown option --borwser: use --browser, --no-open or --help.',
  })
})

test('browsers are looked for where each system keeps them', () => {
  expect(browserPlaces('linux', { PATH: '/opt/bin:/usr/bin' }).slice(0, 2)).toEqual([
    '/opt/bin/chromium',
    '/usr/bin/chromium',
  ])
  expect(browserPlaces('darwin', {})[0]).toBe('/Applications/Google Chrome.app/Contents/MacOS/Google Chrome')
  expect(browserPlaces('win32', { ProgramFiles: 'C:/Programs' })).toHaveLength(2)
})

test('a Linux machine without a display has no screen', () => {
  expect([hasScreen('linux', {}), hasScreen('linux', { DISPLAY: '' })]).toEqual([false, false])
  expect([hasScreen('linux', { WAYLAND_DISPLAY: 'wayland-0' }), hasScreen('win32', {})]).toEqual([true, true])
})
