import { spawnSync } from 'node:child_process'
import { mkdir, mkdtemp, readdir, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import type { MeasureCommand } from '../../../main/cli/command.ts'
import { droptestCommand } from '../../../main/cli/droptest-command.ts'
import { measureCommand } from '../../../main/cli/measure-command.ts'
import type { Failure, MeasureClipRequest, MeasureDropsRequest } from '../../../main/measuring/measured-ride.ts'

const points = {
  entryEnd: [10, 100],
  exitEnd: [300, 40],
  pivot: [160, 70],
  upContactEdge: [80, 86],
  downContactEdge: [240, 52],
}
const marks = { schema: 'marks/1', clip: 'biscuit.mp4', frames: [{ frame: 0, points }] }
const board = { lengthM: 3.66, widthM: 0.3, pivotHeightM: 0.61, contactM: 0.9 }

let folder: string
let command: MeasureCommand & Required<Pick<MeasureCommand, 'marksPath' | 'boardPath'>>
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'measure-'))
  const path = (name: string) => join(folder, name)
  await writeFile(path('marks.json'), JSON.stringify(marks))
  await writeFile(path('board.json'), JSON.stringify(board))
  command = {
    kind: 'measure',
    clipPath: path('biscuit.mp4'),
    marksPath: path('marks.json'),
    boardPath: path('board.json'),
    outDir: path('out'),
    overlay: false,
    pdf: false,
    progress: false,
  }
})
afterEach(() => rm(folder, { recursive: true }))

/** Runs the command on a measurement that fails. */
function run(
  changes: Partial<MeasureCommand>,
  failure: Failure = { kind: 'nothing', detail: 'No dog.' },
  remarks: string[] = [],
) {
  return measureCommand(
    { ...command, ...changes },
    {
      measureClip: () => Promise.resolve(failure),
      findMarks: () => Promise.resolve({ kind: 'nothing', detail: 'No plank.' }),
      signal: new AbortController().signal,
      onProgress: () => undefined,
      remark: (line) => remarks.push(line),
    },
  )
}

/** Runs the command without one or both files; tells what was asked of the measuring, and of the search. */
async function runWithout(...left: readonly ('marksPath' | 'boardPath')[]) {
  const asked: { search: unknown; measuring: MeasureClipRequest | null } = { search: null, measuring: null }
  const rest = Object.fromEntries(Object.entries(command).filter(([name]) => !left.some((one) => one === name)))
  const end = await measureCommand(rest as unknown as MeasureCommand, {
    findMarks: (clip) => {
      asked.search = clip
      return Promise.resolve({ kind: 'found', marks: foundMarks })
    },
    measureClip: (request) => {
      asked.measuring = request
      return Promise.resolve({ kind: 'bad-marks', detail: 'The pivot lies far off.' })
    },
    signal: new AbortController().signal,
    onProgress: () => undefined,
    remark: () => undefined,
  })
  return { ...asked, end }
}

const at = (xPx: number, yPx: number) => ({ xPx, yPx })
const foundMarks = {
  clip: 'biscuit.mp4',
  rest: {
    frame: 0,
    entryEnd: at(10, 100),
    exitEnd: at(300, 40),
    pivot: at(160, 70),
    upContactEdge: at(80, 86),
    downContactEdge: at(240, 52),
  },
}

describe('without marks', () => {
  test('the plank is looked for with the board that was given, and measured as found', async () => {
    const { search, measuring, end } = await runWithout('marksPath')
    expect(search).toEqual({ clipPath: command.clipPath, board })
    expect(measuring).toMatchObject({ marks: foundMarks, board, origins: { marksFrom: 'found', boardFrom: 'file' } })
    // Nobody typed these marks: no file is wrong, nothing could be measured.
    expect(end).toEqual({
      exitCode: 4,
      lines: [],
      complaint:
        'What was taken for the plank does not fit the board: The pivot lies far off. Mark the plank by hand and give the file with --marks.',
    })
  })

  test('and without a board a plank of 3.66 m is assumed', async () => {
    // UK national regulations H(1)(B)3.m: 3.66 m long, zones of 0.914 m.
    const { measuring } = await runWithout('boardPath', 'marksPath')
    expect(measuring).toMatchObject({
      board: { lengthM: 3.66, contactM: 0.914 },
      origins: { marksFrom: 'found', boardFrom: 'assumed' },
    })
  })

  test('ends with 4 and a sentence when the plank is not found', async () => {
    const { kind, clipPath, boardPath, outDir, overlay, pdf, progress } = command
    const unmarked = { kind, clipPath, boardPath, outDir, overlay, pdf, progress }
    const end = await measureCommand(unmarked, {
      measureClip: () => Promise.reject(new Error('not reached')),
      findMarks: () => Promise.resolve({ kind: 'nothing', detail: 'No plank.' }),
      signal: new AbortController().signal,
      onProgress: () => undefined,
      remark: () => undefined,
    })
    expect(end).toEqual({ exitCode: 4, lines: [], complaint: 'No plank.' })
  })
})

describe('how measuring ends', () => {
  test('with 2 for a bad board or marks file, and the one line that says what is wrong where', async () => {
    await writeFile(command.boardPath, JSON.stringify({ ...board, widthM: 30 }))
    expect(await run({})).toEqual({
      exitCode: 2,
      lines: [],
      complaint: `${command.boardPath}: widthM must be from 0.1 to 1 m, got 30 m; give metres, not cm: 30 cm is 0.3`,
    })
    expect(await run({ boardPath: join(folder, 'none.json') })).toMatchObject({ exitCode: 2 })
    await writeFile(command.boardPath, JSON.stringify(board))
    await writeFile(command.marksPath, '{}')
    expect(await run({})).toMatchObject({
      exitCode: 2,
      complaint: `${command.marksPath}: schema is missing; add it (and 2 more faults)`,
    })
  })

  test('with 2 where no folder can be made', async () => {
    expect(await run({ outDir: command.marksPath })).toMatchObject({
      exitCode: 2,
      complaint: `--out ${command.marksPath}: is a file, not a folder; give another name`,
    })
    const below = join(command.marksPath, 'deeper')
    expect(await run({ outDir: below })).toMatchObject({ exitCode: 2 })
  })

  test.skipIf(process.platform !== 'linux')('with 2 below /proc, where a folder is never made', async () => {
    expect(await run({ outDir: '/proc/tiphold/out' })).toMatchObject({
      exitCode: 2,
      complaint: '--out /proc/tiphold/out: cannot be made there; give another folder',
    })
  })

  test('with the part files of a killed run gone, those of a running one left', async () => {
    await mkdir(command.outDir)
    const ended = spawnSync(process.execPath, ['-e', '']).pid
    await writeFile(join(command.outDir, `.overlay.mp4.${ended}.part`), 'half')
    await writeFile(join(command.outDir, `.ride-2.json.${process.ppid}.part`), 'half')
    await writeFile(join(command.outDir, 'notes.part'), 'mine')
    await run({})
    expect((await readdir(command.outDir)).sort()).toEqual([`.ride-2.json.${process.ppid}.part`, 'notes.part'])
  })

  test('with 2 for marks that do not fit the clip, naming their file', async () => {
    const failure = { kind: 'bad-marks', detail: 'Frame 900 is not in the clip.' } as const
    const end = await run({}, failure)
    expect(end).toEqual({ exitCode: 2, lines: [], complaint: `${command.marksPath}: Frame 900 is not in the clip.` })
  })

  test('with 3 for a clip that cannot be read, with 4 for one in which nothing could be measured', async () => {
    const unreadable = { kind: 'unreadable', detail: 'biscuit.mp4 is empty: copy it again.' } as const
    expect(await run({}, unreadable)).toEqual({ exitCode: 3, lines: [], complaint: unreadable.detail })
    expect(await run({})).toEqual({ exitCode: 4, lines: [], complaint: 'No dog.' })
    expect(await readdir(command.outDir)).toEqual([])
  })

  test('with a remark when the marks were made on another clip', async () => {
    const remarks: string[] = []
    await run({ clipPath: join(folder, 'other.mp4') }, undefined, remarks)
    expect(remarks).toEqual([
      `${command.marksPath}: was marked on biscuit.mp4, not on other.mp4; the numbers are wrong if that is another film`,
    ])
    await run({}, undefined, remarks)
    expect(remarks).toHaveLength(1)
    await writeFile(command.marksPath, JSON.stringify({ ...marks, clip: 'a\u001b[2Jb\nc.mp4' }))
    await run({}, undefined, remarks)
    expect(remarks[1]).toContain('was marked on a\\u{1b}[2Jb\\nc.mp4, not on biscuit.mp4')
  })
})

describe('how a drop test ends', () => {
  const runDrop = (massAtM: number | undefined, asked: number[]) =>
    droptestCommand(
      {
        kind: 'droptest',
        drops: [{ ...command, massKg: 1, ...(massAtM === undefined ? {} : { massAtM }) }],
        boardPath: command.boardPath,
        outDir: command.outDir,
        pdf: false,
        progress: false,
      },
      {
        measureDrops: ({ drops }) => {
          asked.push(...drops.map((drop) => drop.massAtM))
          return Promise.resolve({ kind: 'nothing', detail: 'No weight.' })
        },
        findMarks: () => Promise.reject(new Error('not reached')),
        signal: new AbortController().signal,
        onProgress: () => undefined,
        remark: () => undefined,
      },
    )

  test('the weight stands in the middle of the down contact unless said otherwise', async () => {
    const asked: number[] = []
    await runDrop(undefined, asked)
    await runDrop(3, asked)
    expect(asked).toEqual([3.66 - 0.45, 3])
  })

  test('without a board a usual one is assumed', async () => {
    const asked: (MeasureDropsRequest | undefined)[] = []
    const { clipPath, marksPath, outDir } = command
    await droptestCommand(
      { kind: 'droptest', drops: [{ clipPath, marksPath, massKg: 1 }], outDir, pdf: false, progress: false },
      {
        measureDrops: (request) => {
          asked.push(request)
          return Promise.resolve({ kind: 'nothing', detail: 'No weight.' })
        },
        findMarks: () => Promise.reject(new Error('not reached')),
        signal: new AbortController().signal,
        onProgress: () => undefined,
        remark: () => undefined,
      },
    )
    expect(asked[0]).toMatchObject({ board: { lengthM: 3.66 }, origins: { boardFrom: 'assumed' } })
  })

  test('without marks the plank is looked for, and measured as found', async () => {
    const asked: { search: unknown; measuring: MeasureDropsRequest | null } = { search: null, measuring: null }
    const { clipPath, boardPath, outDir } = command
    const end = await droptestCommand(
      { kind: 'droptest', drops: [{ clipPath, massKg: 1 }], boardPath, outDir, pdf: false, progress: false },
      {
        findMarks: (clip) => {
          asked.search = clip
          return Promise.resolve({ kind: 'found', marks: foundMarks })
        },
        measureDrops: (request) => {
          asked.measuring = request
          return Promise.resolve({ kind: 'bad-marks', detail: 'The pivot lies far off.' })
        },
        signal: new AbortController().signal,
        onProgress: () => undefined,
        remark: () => undefined,
      },
    )
    expect(asked.search).toEqual({ clipPath, board })
    expect(asked.measuring).toMatchObject({ drops: [{ marks: foundMarks }], origins: { marksFrom: 'found' } })
    // Nobody typed these marks: no file is wrong, nothing could be measured.
    expect(end).toMatchObject({ exitCode: 4 })
  })

  test('without marks it ends with 4 and a sentence when the plank is not found', async () => {
    const { clipPath, boardPath, outDir } = command
    const end = await droptestCommand(
      { kind: 'droptest', drops: [{ clipPath, massKg: 1 }], boardPath, outDir, pdf: false, progress: false },
      {
        findMarks: () => Promise.resolve({ kind: 'nothing', detail: 'No plank.' }),
        measureDrops: () => Promise.reject(new Error('not reached')),
        signal: new AbortController().signal,
        onProgress: () => undefined,
        remark: () => undefined,
      },
    )
    expect(end).toEqual({ exitCode: 4, lines: [], complaint: 'No plank.' })
  })

  test('a weight beyond the plank is wrong usage', async () => {
    const end = await runDrop(4, [])
    expect(end).toMatchObject({
      exitCode: 2,
      complaint: '--mass-at-m must lie on the plank, 0 to 3.66 m, got 4 m',
    })
  })
})
