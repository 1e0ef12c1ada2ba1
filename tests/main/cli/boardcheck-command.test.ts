import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { Ajv } from 'ajv'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { seededRandom } from '../../../analysis/numeric/random.ts'
import { ownFrom } from '../../../analysis/rules/own-rules.ts'
import { ruleSetOf } from '../../../analysis/rules/rule-sets.ts'
import { boardcheckCommand } from '../../../main/cli/boardcheck-command.ts'
import type { BoardcheckCommand } from '../../../main/cli/command.ts'
import type { BoardCheckFile } from '../../../analysis/board-physics/board-check-file.ts'
import { filmedDrop, trueFallS, type TrueBoard } from '../../simulated-boards/simulated-board.ts'

/** A board that falls too fast. */
const truth: TrueBoard = {
  board: { lengthM: 3.66, widthM: 0.3, pivotHeightM: 0.61, contactM: 0.914 },
  plankKg: 13.4,
  inertiaKgM2: 15,
  biasTorqueNm: 2,
  coulombNm: 0.5,
  viscousNms: 2,
  restRad: -0.3166,
  groundRad: 0.3166,
}
const filming = { rateHz: 25, noiseDeg: 0.05, eventSdS: 0.02 }
const drops = [1, 2].map((massKg) => filmedDrop(truth, massKg, 3.203, filming, seededRandom(6 + massKg)))

let folder: string
let command: BoardcheckCommand
const path = (name: string) => join(folder, name)
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'boardcheck-'))
  await writeFile(path('board.json'), JSON.stringify(truth.board))
  await writeFile(path('drops.json'), JSON.stringify({ schema: 'tiphold.droptest/1', drops }))
  command = {
    kind: 'boardcheck',
    droptestPaths: [path('drops.json')],
    boardPath: path('board.json'),
    rules: 'uk',
    outDir: path('out'),
  }
})
afterEach(() => rm(folder, { recursive: true }))

describe('a board of which only frames, events and weights are known', () => {
  test('is checked, and what is written keeps to the published schema', async () => {
    expect(await boardcheckCommand(command)).toMatchObject({ exitCode: 0, complaint: null })
    const file = JSON.parse(await readFile(path('out/boardcheck.json'), 'utf8')) as BoardCheckFile
    const schema = JSON.parse(await readFile('main/files/boardcheck.schema.json', 'utf8')) as object
    const validate = new Ajv({ strict: false }).compile(schema)
    expect(validate(file) || validate.errors).toBe(true)
    if (file.fallS.kind !== 'measured') throw new Error('the fall was not measured')
    expect(Math.abs(file.fallS.value - 0.4 - trueFallS(truth, 1, 3.203))).toBeLessThan(0.03)
    expect(file.verdict).toBe('too-fast')
    expect(file.advice.length).toBeGreaterThan(0)
    expect(file.adviceWithheld).toBeNull()
  })

  test('with a counterweight in its board file may be set right by moving or taking off that', async () => {
    const counterweights = [{ massKg: 1, atM: 2.3 }]
    await writeFile(path('board.json'), JSON.stringify({ ...truth.board, counterweights }))
    await boardcheckCommand(command)
    const file = JSON.parse(await readFile(path('out/boardcheck.json'), 'utf8')) as BoardCheckFile
    const moved = file.advice.find(({ doWhat }) => doWhat === 'move')
    expect(moved).toMatchObject({ massKg: 1, fromM: 2.3 })
    expect(moved!.atM).toBeLessThan(2.3)
  })
})

describe('the sizes that marks of a clip show', () => {
  const told = (value: number, sd: number) => ({ kind: 'measured', value, sd })
  const sizes = {
    lengthM: 3.66,
    upContactM: told(0.98, 0.008),
    downContactM: told(0.985, 0.008),
    pivotHeightM: told(0.615, 0.018),
    restAngleDeg: told(-18.1, 0.5),
    swingDeg: told(36.1, 0.7),
  }
  const checkedWith = async (seen: unknown) => {
    const [first, ...further] = drops
    const file = { schema: 'tiphold.droptest/1', drops: [{ ...first, sizes: seen }, ...further] }
    await writeFile(path('drops.json'), JSON.stringify(file))
    const end = await boardcheckCommand(command)
    return { end, file: JSON.parse(await readFile(path('out/boardcheck.json'), 'utf8')) as BoardCheckFile }
  }

  test('are held against the rule set, and name an entry that they contradict', async () => {
    const { end, file } = await checkedWith(sizes)
    const schema = JSON.parse(await readFile('main/files/boardcheck.schema.json', 'utf8')) as object
    const validate = new Ajv({ strict: false }).compile(schema)
    expect(validate(file) || validate.errors).toBe(true)
    expect(file.sizes?.findings).toMatchObject([
      { part: 'contactM', outcome: 'outside' },
      { part: 'pivotHeightM', outcome: 'unsure' },
    ])
    expect(end.lines.join(' ')).toContain('0.914 m is entered')
    const html = await readFile(path('out/boardcheck.html'), 'utf8')
    expect(html).toContain('0.983 m ± 0.011')
    expect(html).toContain('too uncertain to say')
  })

  test.each([undefined, null, 'large', { ...sizes, upContactM: 0.98 }])(
    'are left out where a file of other origin has none like ours: %#',
    async (seen) => {
      const { end, file } = await checkedWith(seen)
      expect(end).toMatchObject({ exitCode: 0 })
      expect(file.sizes).toBeNull()
    },
  )
})

describe('a handler’s own rules', () => {
  const own = {
    ...ownFrom(ruleSetOf('uk')!, 'Our club'),
    drop: { ...ruleSetOf('uk')!.drop!.says, leastS: 1, mostS: 2 },
  }
  const askedOf = (ownRules: unknown) =>
    writeFile(path('library.json'), JSON.stringify({ format: 1, settings: { units: 'metric', ownRules } }))

  test('are read from a library’s settings, which may be open elsewhere', async () => {
    await askedOf(own)
    const end = await boardcheckCommand({ ...command, rules: 'own', libraryFolder: folder })
    expect(end).toMatchObject({ exitCode: 0, complaint: null })
    const file = JSON.parse(await readFile(path('out/boardcheck.json'), 'utf8')) as BoardCheckFile
    expect(file).toMatchObject({ rules: { key: 'own', name: 'Our club' }, test: { leastS: 1, mostS: 2 } })
  })

  test.each([
    [null, 'holds no rules of your own; enter them in Settings'],
    [{ ...own, drop: null }, '--rules own (Our club): prescribes no drop test'],
    [{ ...own, widthM: { minM: 2, maxM: 1 } }, 'settings.ownRules'],
  ])('that cannot be used are told in one line: %#', async (ownRules, message) => {
    await askedOf(ownRules)
    const end = await boardcheckCommand({ ...command, rules: 'own', libraryFolder: folder })
    expect(end.exitCode).toBe(2)
    expect(end.complaint).toContain(message)
    expect(await readdir(folder)).not.toContain('out')
  })

  test('of no library at all are told to be missing', async () => {
    const end = await boardcheckCommand({ ...command, rules: 'own', libraryFolder: path('none') })
    expect(end).toMatchObject({ exitCode: 2 })
    expect(end.complaint).toContain('No rules of your own are known')
  })
})

describe('a file that cannot be used is refused in one line, and nothing is written', () => {
  test.each([
    [{ schema: 'tiphold.ride/1', drops }, 'schema must be "tiphold.droptest/1"'],
    [{ drops: [] }, 'drops is empty'],
    [{ drops: [{ ...drops[0], massKg: undefined }] }, 'drops[0].massKg is missing'],
    [{ drops: [{ ...drops[0], massAtM: 320 }] }, 'drops[0].massAtM must be from 0 to 3.66 m'],
    [{ drops: [{ ...drops[0], frames: { ptsS: [0, 1], boardAngleDeg: [1] } }] }, 'must be as long as ptsS (2)'],
    [
      { drops: [{ ...drops[0], frames: { ptsS: [1, 0], boardAngleDeg: [1, 2] } }] },
      'must be later than the one before',
    ],
    [{ drops: [{ ...drops[0], events: { placed: { kind: 'guess' } } }] }, 'kind must be "measured"'],
  ])('%#', async (file, message) => {
    await writeFile(path('drops.json'), JSON.stringify(file))
    const end = await boardcheckCommand(command)
    expect(end.exitCode).toBe(2)
    expect(end.complaint).toContain(message)
    expect(end.complaint).not.toContain('\n')
    expect((await readdir(folder)).includes('out')).toBe(false)
  })
})
