import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, expect, test } from 'vitest'
import { ffmpegCandidates } from '../../../../main/film/engines/engine-candidates.ts'
import { chooseFfmpeg, chooseFfmpegFor, NoFfmpegError } from '../../../../main/film/engines/ffmpeg-choice.ts'
import { testFfmpeg, testFfprobe } from '../../../../main/film/engines/ffmpeg-self-test.ts'
import { needs } from '../../../report/needs.ts'

const folder = mkdtempSync(join(tmpdir(), 'tiphold-engines-'))
afterAll(() => {
  rmSync(folder, { recursive: true })
})

test('the ffmpeg on the PATH passes the self-test', async (context) => {
  needs(context, 'ffmpeg on the PATH')
  const result = await testFfmpeg(pathOf('PATH'))
  expect(result).toMatchObject({ kind: 'passed', features: { decodesHevc: true } })
})

test('the old ffmpeg that npm installs passes the self-test with the option of its time', async (context) => {
  needs(context, 'the ffmpeg that npm installs')
  const result = await testFfmpeg(pathOf('@ffmpeg-installer'))
  expect(result).toMatchObject({
    kind: 'passed',
    features: { passthroughArgs: ['-vsync', 'passthrough'], decodesHevc: true, encodesH264: true },
  })
})

test('the ffmpeg of ffmpeg-static passes the self-test', async (context) => {
  needs(context, 'the ffmpeg of ffmpeg-static')
  expect(await testFfmpeg(pathOf('ffmpeg-static'))).toMatchObject({ kind: 'passed' })
})

test('TIPHOLD_FFMPEG comes before everything else', async (context) => {
  needs(context, 'the ffmpeg that npm installs')
  const path = pathOf('@ffmpeg-installer')
  const choice = await chooseFfmpegFor({ ...process.env, TIPHOLD_FFMPEG: path })
  expect(choice).toMatchObject({ ffmpegPath: path, source: 'TIPHOLD_FFMPEG' })
  expect(choice.considered[0]).toMatchObject({ source: 'TIPHOLD_FFMPEG', outcome: 'chosen' })
})

test('without an ffmpeg on the PATH the one that npm installs is used, with its ffprobe', async (context) => {
  needs(context, 'the ffmpeg that npm installs')
  const choice = await chooseFfmpegFor({ PATH: folder })
  expect(choice.ffprobePath).not.toBeNull()
  expect(choice.ffprobeSource).toBe('@ffprobe-installer')
  expect(choice.considered).toContainEqual({
    program: 'ffmpeg',
    source: 'PATH',
    path: null,
    outcome: 'absent',
    why: 'no folder on the PATH holds ffmpeg',
  })
})

test('a TIPHOLD_FFMPEG that does not exist is refused with its reason, and the next one is used', async (context) => {
  needs(context, 'the ffmpeg that npm installs')
  const choice = await chooseFfmpegFor({ TIPHOLD_FFMPEG: join(folder, 'nowhere') })
  expect(choice.source).not.toBe('TIPHOLD_FFMPEG')
  expect(choice.considered[0]).toMatchObject({ outcome: 'refused', why: 'there is no such file' })
})

test.each([
  ['ends at once without a word', 'exit 0', 'it decoded a test clip to 0 bytes instead of 8192'],
  ['gives up', 'echo "no H.264 here" >&2; exit 3', 'it gave up on a test clip with exit code 3: no H.264 here'],
  ['shows black pictures', 'head -c 8192 /dev/zero', 'it decoded a test clip to wrong pixels'],
])('a program that %s is refused', async (what, script, why) => {
  expect(await testFfmpeg(program(what, script))).toEqual({ kind: 'failed', why })
})

test('a program with the right pixels at wrong times is refused', async (context) => {
  needs(context, 'the ffmpeg that npm installs')
  const shifted = program(
    'shifts times',
    `"${pathOf('@ffmpeg-installer')}" "$@" 2> >(sed 's/pts_time:0.2/pts_time:0.3/' >&2)`,
  )
  expect(await testFfmpeg(shifted)).toEqual({
    kind: 'failed',
    why: 'it read the timestamps of a test clip as 0, 0.3 s',
  })
})

test('an ffprobe that reads no timestamps is refused', async () => {
  expect(await testFfprobe(program('ffprobe that says nothing', 'exit 0'))).toMatchObject({ kind: 'failed' })
})

test('when nothing works the error says what to do and why each place was refused', async () => {
  const candidates = [{ source: 'PATH', kind: 'found', path: join(folder, 'nowhere') }] as const
  const failure = await chooseFfmpegFor({}, candidates).catch((error: unknown) => error)
  expect(failure).toBeInstanceOf(NoFfmpegError)
  expect(failure).toMatchObject({
    message: 'No working ffmpeg was found. Install ffmpeg, or set TIPHOLD_FFMPEG to the path of one.',
    considered: [{ source: 'PATH', outcome: 'refused', why: 'there is no such file' }],
  })
})

test('the choice is made once a process', () => {
  expect(chooseFfmpeg()).toBe(chooseFfmpeg())
})

function pathOf(source: string): string {
  const candidate = ffmpegCandidates(process.env).find((one) => one.source === source)
  if (candidate?.kind !== 'found') throw new Error(`${source} holds no ffmpeg`)
  return candidate.path
}

function program(name: string, script: string): string {
  const path = join(folder, name.replaceAll(' ', '-'))
  writeFileSync(path, `#!/usr/bin/env bash\n${script}\n`, { mode: 0o755 })
  return path
}
