import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'

/**
 * How a program for Windows, macOS and Linux is packed: `npm run package`, on the system that it is for, since npm
 * brings the ffmpeg of that system only. DEVELOPERS.md tells more.
 */

const windowPackages = 'node_modules/{react-router,react-aria,react-aria-components,react-stately,lucide-react}'

export default {
  appId: 'app.tiphold',
  productName: 'Tiphold',
  copyright: 'Copyright (c) the Tiphold authors. MIT licence.',
  directories: { output: 'out/packages', buildResources: 'main/hosts/electron/icons' },
  npmRebuild: false,
  asar: true,
  files: [
    'package.json',
    'LICENSE',
    'out/app/**',
    'out/window/**',
    // Build and start from a checkout.
    '!out/app/main/hosts/{build,start}/**',
    // Already in the window's script; their licences stay.
    `!${windowPackages}/**`,
    `${windowPackages}/{package.json,LICENSE*,license*}`,
    // ffmpeg is a program of its own and goes beside ours.
    '!node_modules/{ffmpeg-static,@ffmpeg-installer}/**',
    // Built for plain Node; the WebAssembly machinery does the work.
    '!node_modules/@tensorflow/tfjs-node/**',
  ],
  extraResources: [
    { from: 'main/notices', to: 'notices', filter: ['third-party.md', 'licence-texts/**'] },
    { from: 'node_modules/electron/dist', to: 'notices/electron', filter: ['LICENSE', 'LICENSES.chromium.html'] },
    { from: 'sample-clips/clips', to: 'sample-clips', filter: ['*.mp4', '*.marks.json', '*.board.json'] },
    { from: 'sample-clips/season', to: 'season', filter: ['rides.json'] },
    ...ffmpegParts(),
  ],
  // What Electron can do beyond showing our window is switched off for good in the packed binary.
  electronFuses: {
    runAsNode: false,
    enableCookieEncryption: true,
    enableNodeOptionsEnvironmentVariable: false,
    enableNodeCliInspectArguments: false,
    enableEmbeddedAsarIntegrityValidation: true,
    onlyLoadAppFromAsar: true,
    loadBrowserProcessSpecificV8Snapshot: false,
    grantFileProtocolExtraPrivileges: false,
  },
  win: { target: ['nsis'], icon: 'tiphold-1024.png' },
  nsis: { oneClick: false, perMachine: false, allowToChangeInstallationDirectory: true },
  mac: {
    target: ['dmg'],
    icon: 'tiphold-1024.png',
    category: 'public.app-category.sports',
    hardenedRuntime: true,
    entitlements: 'main/hosts/electron/macos-entitlements.plist',
    entitlementsInherit: 'main/hosts/electron/macos-entitlements.plist',
    extendInfo: { NSMicrophoneUsageDescription: 'You can speak comments on a ride instead of writing them.' },
  },
  linux: { target: ['AppImage', 'deb'], icon: 'tiphold-1024.png', category: 'Video', maintainer: 'Tiphold' },
}

/** The ffmpeg that npm brought for this system, and a note on where it and its source come from. */
function ffmpegParts() {
  const program = process.platform === 'win32' ? 'ffmpeg.exe' : 'ffmpeg'
  const old = `@ffmpeg-installer/${process.platform}-${process.arch}`
  // The registry's other build is of 2018, and people open strangers' clips with it: it is packed only when asked for.
  const folders = process.env.TIPHOLD_PACK_OLD_FFMPEG === 'yes' ? ['ffmpeg-static', old] : ['ffmpeg-static']
  const folder = folders.map((name) => join('node_modules', name)).find((path) => existsSync(join(path, program)))
  if (folder === undefined) {
    throw new Error(
      'ffmpeg-static is not installed: run npm ci again, with a way to the internet. ' +
        'To pack the build of 2018 all the same, set TIPHOLD_PACK_OLD_FFMPEG=yes.',
    )
  }
  const { name, version, homepage } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'))
  const note = [
    'ffmpeg is a program of its own under the GNU General Public License, version 3 or later (gpl-3.0.txt).',
    `This build comes from the package ${name} ${version}; the builder's page, ${homepage}, names its source.`,
    'Tiphold starts it and talks to it through pipes. Set TIPHOLD_FFMPEG to use any other.',
  ]
  mkdirSync('out', { recursive: true })
  writeFileSync(join('out', 'ffmpeg-note.txt'), `${note.join('\n')}\n`)
  return [
    { from: join(folder, program), to: `ffmpeg/${program}` },
    { from: 'out/ffmpeg-note.txt', to: 'notices/ffmpeg.txt' },
  ]
}
