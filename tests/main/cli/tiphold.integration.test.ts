import { spawn } from 'node:child_process'
import { mkdtemp, readdir, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { chooseFfmpeg } from '../../../main/film/engines/ffmpeg-choice.ts'
import { runProgram } from '../../../main/film/engines/run-program.ts'

const root = fileURLToPath(new URL('../../../', import.meta.url))
const points = {
  entryEnd: [20, 150],
  exitEnd: [300, 60],
  pivot: [160, 105],
  upContactEdge: [90, 128],
  downContactEdge: [230, 83],
}

let folder: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tiphold-'))
  await writeFile(
    join(folder, 'marks.json'),
    JSON.stringify({ schema: 'marks/1', clip: 'field.mp4', frames: [{ frame: 0, points }] }),
  )
  await writeFile(
    join(folder, 'board.json'),
    JSON.stringify({ lengthM: 3.66, widthM: 0.3, pivotHeightM: 0.61, contactM: 0.914 }),
  )
  await writeFile(join(folder, 'letter.mp4'), 'Dear Ann, the dog was good today.')
})
afterAll(() => rm(folder, { recursive: true }))

/** Runs the program; `onSaid` may stop it. */
async function tiphold(args: readonly string[], onSaid: (said: string, interrupt: () => void) => void = () => {}) {
  const child = spawn(process.execPath, ['--import', 'tsx', 'main/cli/tiphold.ts', ...args], { cwd: root })
  const text = { out: '', err: '' }
  child.stdout.on('data', (chunk: Buffer) => (text.out += chunk.toString()))
  child.stderr.on('data', (chunk: Buffer) => {
    text.err += chunk.toString()
    onSaid(text.err, () => child.kill('SIGINT'))
  })
  const exitCode = await new Promise<number | null>((resolve) => child.on('close', resolve))
  return { exitCode, ...text }
}

function measuring(clip: string, outDir: string): string[] {
  const at = (name: string) => join(folder, name)
  const marks = ['--marks', at('marks.json'), '--board', at('board.json'), '--out', at(outDir)]
  return ['measure', at(clip), ...marks, '--progress']
}

describe('the exit code', () => {
  test('is 2 for wrong usage, with one line that says what is wrong', async () => {
    const ended = await tiphold(['measure', 'a.mp4'])
    expect(ended).toEqual({ exitCode: 2, out: '', err: '--out is missing; see tiphold --help\n' })
  })

  test('is 3 for a file that is no film, with one sentence, and nothing is written', async () => {
    const ended = await tiphold(measuring('letter.mp4', 'out-letter'))
    expect(ended.exitCode).toBe(3)
    const lines = ended.err.trim().split('\n')
    expect(lines.at(-1)).toContain('letter.mp4')
    expect(await readdir(join(folder, 'out-letter'))).toEqual([])
  })

  test('is 0 for help, which names all commands', async () => {
    const ended = await tiphold(['--help'])
    expect(ended).toMatchObject({ exitCode: 0, err: '' })
    for (const name of ['measure', 'droptest', 'doctor']) expect(ended.out).toContain(`tiphold ${name}`)
  })
})

test('Ctrl-C ends a measurement before it is done, with 130 and without files', async () => {
  const { ffmpegPath } = await chooseFfmpeg()
  const path = join(folder, 'field.mp4')
  const picture = 'testsrc2=size=960x540:rate=30:duration=30'
  const args = ['-loglevel', 'error', '-f', 'lavfi', '-i', picture, '-preset', 'ultrafast', '-pix_fmt', 'yuv420p', path]
  const made = await runProgram(ffmpegPath, args, new Uint8Array(), 60_000)
  expect(made).toMatchObject({ kind: 'ended', exitCode: 0 })
  let isInterrupted = false
  const ended = await tiphold(measuring('field.mp4', 'out-cancelled'), (said, interrupt) => {
    if (isInterrupted || !said.includes('frames')) return
    isInterrupted = true
    interrupt()
  })
  expect(ended.exitCode).toBe(130)
  expect(isInterrupted).toBe(true)
  expect(await readdir(join(folder, 'out-cancelled'))).toEqual([])
})
