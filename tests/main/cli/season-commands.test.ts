import { mkdtempSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { Ajv } from 'ajv'
import { beforeAll, expect, test } from 'vitest'
import { reportCommand } from '../../../main/cli/report-command.ts'
import { showcheckCommand } from '../../../main/cli/showcheck-command.ts'
import { demoSeason } from '../../../sample-clips/season/demo-season.ts'

const folder = mkdtempSync(join(tmpdir(), 'season-'))
const ridesPath = join(folder, 'rides.json')
const read = (name: string) => JSON.parse(readFileSync(join(folder, name), 'utf8')) as Record<string, unknown>

beforeAll(() => writeFileSync(ridesPath, JSON.stringify(demoSeason())))

test('a report says in its files what it says on the screen, and its rides can be read back', async () => {
  const outDir = join(folder, 'out')
  const end = await reportCommand({ kind: 'report', dog: 'kestrel', ridesPath, outDir })
  expect(end.exitCode).toBe(0)
  expect(readdirSync(outDir).sort()).toEqual(['dog.html', 'dog.json', 'dog.pdf', 'rides.csv', 'rides.json'])
  expect(readFileSync(join(outDir, 'dog.pdf')).subarray(0, 5).toString()).toBe('%PDF-')
  const dog = read('out/dog.json') as { dog: string; rides: number; sentences: { text: string }[] }
  expect(dog).toMatchObject({ dog: 'Kestrel', rides: 20 })
  const html = readFileSync(join(outDir, 'dog.html'), 'utf8')
  expect(html).not.toContain('<script')
  for (const { text } of dog.sentences) {
    expect(end.lines).toContain(text)
    expect(html).toContain(text)
  }
  const schema = readFileSync(new URL('../../../main/files/dog.schema.json', import.meta.url), 'utf8')
  expect(new Ajv({ strict: false }).compile(JSON.parse(schema) as object)(dog)).toBe(true)
  expect(dog).toMatchObject({ splits: expect.arrayContaining([expect.objectContaining({ by: 'purpose' })]) as unknown })
  expect(html).toContain('Training or show')
  const again = await reportCommand({
    kind: 'report',
    dog: 'Kestrel',
    ridesPath: join(outDir, 'rides.json'),
    outDir: join(folder, 'again'),
  })
  expect(again.exitCode).toBe(0)
  expect(read('again/dog.json')).toEqual(dog)
})

test('a show check fits its schema, and its chance lies in its interval', async () => {
  const outDir = join(folder, 'show')
  const end = await showcheckCommand({
    kind: 'showcheck',
    dog: 'Biscuit',
    board: 'quick board',
    rules: 'akc',
    ridesPath,
    outDir,
  })
  expect(end.exitCode).toBe(0)
  expect(readdirSync(outDir).sort()).toEqual(['showcheck.csv', 'showcheck.html', 'showcheck.json', 'showcheck.pdf'])
  const file = read('show/showcheck.json')
  const schema = readFileSync(new URL('../../../main/files/showcheck.schema.json', import.meta.url), 'utf8')
  expect(new Ajv({ strict: false }).compile(JSON.parse(schema) as object)(file)).toBe(true)
  const { value, ci95 } = file['earlyChance'] as { value: number; ci95: [number, number] }
  expect(ci95[0]).toBeLessThanOrEqual(value)
  expect(value).toBeLessThanOrEqual(ci95[1])

  // The other files say the same.
  const html = readFileSync(join(outDir, 'showcheck.html'), 'utf8')
  expect(html).not.toContain('<script')
  for (const said of [...(file['sentences'] as string[]), ...(file['cautions'] as string[])]) {
    expect(html).toContain(said.replaceAll('"', '&quot;'))
    expect(end.lines).toContain(said)
  }
  expect(html).toContain('Invented rides, to try the program on: no dog ever rode them.')
  const [head, early] = readFileSync(join(outDir, 'showcheck.csv'), 'utf8')
    .split('\r\n')
    .map((line) => line.split(','))
  const cell = (name: string) => early![head!.findIndex((one) => one.includes(name))]
  expect(Number(cell('chance'))).toBeCloseTo(value, 4)
  expect(Number(cell('low'))).toBeCloseTo(ci95[0], 4)
  expect(Number(cell('high'))).toBeCloseTo(ci95[1], 4)
  expect(readFileSync(join(outDir, 'showcheck.pdf')).subarray(0, 5).toString()).toBe('%PDF-')
})

test('a board that the dog has not been on is taken to fall as it feels beside those that it knows', async () => {
  const season = demoSeason()
  const known = season.rides.find(({ dog, board }) => dog === 'Biscuit' && board !== undefined)!.board
  const felt = (value: number) => ({ kind: 'measured', value, sd: 0.01, ci95: [value - 0.02, value + 0.02] })
  const path = join(folder, 'felt.json')
  const boards = [...season.boards.filter(({ name }) => name !== known), { name: known, feelS: felt(0.6) }]
  writeFileSync(path, JSON.stringify({ ...season, boards: [...boards, { name: 'Show board', feelS: felt(0.9) }] }))
  const outDir = join(folder, 'felt')
  const asked = {
    kind: 'showcheck',
    dog: 'Biscuit',
    board: 'show board',
    rules: 'uk',
    ridesPath: path,
    outDir,
  } as const
  expect(await showcheckCommand(asked)).toMatchObject({ exitCode: 0 })
  const file = read('felt/showcheck.json') as { dropTimeS: number; sentences: string[] }
  const falls = season.rides.flatMap(({ dog, board, measures }) => {
    const fall = (measures as Record<string, { kind: string; value: number }> | undefined)?.['dropTimeS']
    return dog === 'Biscuit' && board === known && fall?.kind === 'measured' ? [fall.value] : []
  })
  const usualS = falls.reduce((sum, fall) => sum + fall, 0) / falls.length
  expect(file.dropTimeS / usualS).toBeCloseTo(1.5, 1)
  expect(file.sentences.join(' ')).toContain('Biscuit has not been on Show board')
})

test.each([
  [{ dog: 'Nobody', board: 'Home board' }, 'has no dog named "Nobody"; it has Dottie, Kestrel, Biscuit'],
  [{ dog: 'Dottie', board: 'Moon board' }, 'has no board named "Moon board"'],
])('what is not in the file is told in one line with exit code 2: %j', async (asked, message) => {
  const end = await showcheckCommand({ kind: 'showcheck', rules: 'uk', ridesPath, outDir: folder, ...asked })
  expect(end.exitCode).toBe(2)
  expect(end.complaint).toContain(message)
})
