import { accessSync, constants, statSync } from 'node:fs'
import { createRequire } from 'node:module'
import { delimiter, dirname, join } from 'node:path'

/** Where an ffmpeg or ffprobe comes from, in the order in which they are tried. */
export type EngineSource =
  | 'TIPHOLD_FFMPEG'
  | 'TIPHOLD_FFPROBE'
  | 'ffmpeg-static'
  | 'beside ffmpeg'
  | 'PATH'
  | '@ffmpeg-installer'
  | '@ffprobe-installer'

export type Candidate =
  | { readonly source: EngineSource; readonly kind: 'found'; readonly path: string }
  | { readonly source: EngineSource; readonly kind: 'absent'; readonly why: string }

type Program = 'ffmpeg' | 'ffprobe'
type Environment = Readonly<Record<string, string | undefined>>

const require = createRequire(import.meta.url)

/** The places where an ffmpeg may be: the user's choice, ffmpeg-static, the PATH, and last the old build from the registry. */
export function ffmpegCandidates(env: Environment): Candidate[] {
  return [
    fromSetting(env, 'TIPHOLD_FFMPEG'),
    fromFfmpegStatic(),
    fromPath(env, 'ffmpeg'),
    fromInstaller('@ffmpeg-installer', 'ffmpeg'),
  ]
}

/** The places where an ffprobe may be, best the one that belongs to the chosen ffmpeg. */
export function ffprobeCandidates(env: Environment, ffmpegPath: string): Candidate[] {
  return [
    fromSetting(env, 'TIPHOLD_FFPROBE'),
    besideFfmpeg(ffmpegPath),
    fromPath(env, 'ffprobe'),
    fromInstaller('@ffprobe-installer', 'ffprobe'),
  ]
}

function fromSetting(env: Environment, name: 'TIPHOLD_FFMPEG' | 'TIPHOLD_FFPROBE'): Candidate {
  const path = env[name]
  if (path === undefined || path === '') return { source: name, kind: 'absent', why: 'the variable is not set' }
  return { source: name, kind: 'found', path }
}

function fromFfmpegStatic(): Candidate {
  const source = 'ffmpeg-static'
  const path = loadOptional('ffmpeg-static')
  if (path === null) return { source, kind: 'absent', why: 'the optional package is not installed' }
  if (typeof path !== 'string') return { source, kind: 'absent', why: 'the package has no build for this machine' }
  return { source, kind: 'found', path }
}

function besideFfmpeg(ffmpegPath: string): Candidate {
  const path = join(dirname(ffmpegPath), fileName('ffprobe'))
  if (!isFile(path)) return { source: 'beside ffmpeg', kind: 'absent', why: 'no ffprobe lies beside the chosen ffmpeg' }
  return { source: 'beside ffmpeg', kind: 'found', path }
}

function fromPath(env: Environment, program: Program): Candidate {
  const folders = (env['PATH'] ?? env['Path'] ?? '').split(delimiter).filter((folder) => folder !== '')
  const path = folders.map((folder) => join(folder, fileName(program))).find(isExecutable)
  if (path === undefined) return { source: 'PATH', kind: 'absent', why: `no folder on the PATH holds ${program}` }
  return { source: 'PATH', kind: 'found', path }
}

function fromInstaller(source: '@ffmpeg-installer' | '@ffprobe-installer', program: Program): Candidate {
  const loaded = loadOptional(`${source}/${program}`)
  if (loaded === null)
    return { source, kind: 'absent', why: 'the package is not installed or has no build for this machine' }
  return { source, kind: 'found', path: (loaded as { path: string }).path }
}

/** An optional package's export, or null when it is not there. These packages throw strings as well as errors. */
function loadOptional(name: string): unknown {
  try {
    return require(name)
  } catch {
    return null
  }
}

function fileName(program: Program): string {
  return process.platform === 'win32' ? `${program}.exe` : program
}

function isFile(path: string): boolean {
  return statSync(path, { throwIfNoEntry: false })?.isFile() ?? false
}

function isExecutable(path: string): boolean {
  try {
    accessSync(path, constants.X_OK)
    return isFile(path)
  } catch {
    return false
  }
}
