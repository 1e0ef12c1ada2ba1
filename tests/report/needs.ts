import { existsSync } from 'node:fs'
import { join } from 'node:path'
import type { TestContext } from 'vitest'
import { electronState } from '../../main/film/engines/electron-binary.ts'
import { ffmpegCandidates } from '../../main/film/engines/engine-candidates.ts'
import { browserOnPath } from './browser-on-path.ts'

/**
 * What some tests need and not every machine has. `everywhere` marks what an automatic run installs for itself,
 * so that a test skipped there for want of it is a failure.
 */
const NEEDS = {
  'ffmpeg on the PATH': { everywhere: true, has: () => hasFfmpeg('PATH') },
  'the ffmpeg that npm installs': { everywhere: true, has: () => hasFfmpeg('@ffmpeg-installer') },
  'the ffmpeg of ffmpeg-static': { everywhere: false, has: () => hasFfmpeg('ffmpeg-static') },
  'the package @tensorflow/tfjs-node': { everywhere: false, has: () => hasPackage('@tensorflow/tfjs-node') },
  'a machine without @tensorflow/tfjs-node': { everywhere: false, has: () => !hasPackage('@tensorflow/tfjs-node') },
  'a Chromium on the PATH': { everywhere: true, has: () => browserOnPath() !== null },
  'the binary of Electron': { everywhere: false, has: () => electronState().kind === 'ready' },
} as const

export type Need = keyof typeof NEEDS

/** Skips the running test, aloud and with its reason, on a machine that lacks what the test needs. */
export function needs(context: TestContext, need: Need): void {
  context.skip(!isHere(need), reasonFor(need))
}

/** True on a machine that has it: for what is prepared for several tests. */
export function isHere(need: Need): boolean {
  return NEEDS[need].has()
}

/** True when a test skipped for this reason is no fault of an automatic run. */
export function mayBeSkippedAnywhere(reason: string): boolean {
  return Object.entries(NEEDS).some(([need, { everywhere }]) => !everywhere && reason === reasonFor(need))
}

function reasonFor(need: string): string {
  return `this machine is without: ${need}`
}

function hasFfmpeg(source: 'PATH' | '@ffmpeg-installer' | 'ffmpeg-static'): boolean {
  return ffmpegCandidates(process.env).some((candidate) => candidate.source === source && candidate.kind === 'found')
}

function hasPackage(name: string): boolean {
  return existsSync(join(import.meta.dirname, '../../node_modules', name))
}
