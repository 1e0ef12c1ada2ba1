import { describe, expect, test } from 'vitest'
import { readCommand } from '../../../main/cli/read-command.ts'

const read = (line: string) => readCommand(line.split(' ').filter((word) => word !== ''))
const messageOf = (line: string) => {
  const command = read(line)
  if (command.ok) throw new Error('accepted')
  return command.message
}

describe('measure', () => {
  test('takes a clip, marks, a board and a folder', () => {
    expect(read('measure a.mp4 --marks m.json --board b.json --out dir')).toEqual({
      ok: true,
      value: {
        kind: 'measure',
        clipPath: 'a.mp4',
        marksPath: 'm.json',
        boardPath: 'b.json',
        outDir: 'dir',
        overlay: false,
        pdf: false,
        progress: false,
      },
    })
  })

  test('takes its options in any order', () => {
    const line =
      'measure --overlay --pdf --from 1.5 --out dir --to 9 --slow-motion 8 a.mp4 --board b --marks m --progress'
    expect(read(line)).toMatchObject({
      value: { clipPath: 'a.mp4', slowMotion: 8, fromS: 1.5, toS: 9, overlay: true, pdf: true, progress: true },
    })
  })

  test.each([
    ['measure --marks m --board b --out d', 'measure needs a clip; see tiphold --help'],
    ['measure a.mp4 b.mp4 --marks m --board b --out d', 'measure takes one clip, got 2 (the second: "b.mp4")'],
    ['measure a.mp4 --board b', '--out is missing'],
    ['measure a.mp4 --marks m --marks n --board b --out d', '--marks is given 2 times: give it once'],
    ['measure a.mp4 --marks m --board b --out d --slow-motion fast', '--slow-motion must be a number from 1 to 64'],
    ['measure a.mp4 --marks m --board b --out d --slow-motion 0', 'got "0"'],
    ['measure a.mp4 --marks m --board b --out d --from 5 --to 3', '--to must be later than 5 s, got 3 s'],
    ['measure a.mp4 --marks m --board b --out d --zoom', "unknown option '--zoom'"],
    ['measure a.mp4 --marks', "option '--marks <value>' argument missing"],
    ['measure a.mp4 --overlay=yes --marks m --board b --out d', "option '--overlay' does not take an argument"],
    ['', 'say what to do: measure, droptest, boardcheck, add, report, showcheck, backup, restore or doctor'],
    [
      'mesure a.mp4',
      '"mesure" is no command: give measure, droptest, boardcheck, add, report, showcheck, backup, restore or doctor',
    ],
    ['doctor --overlay', "unknown option '--overlay'"],
  ])('"%s" is refused in one line', (line, message) => {
    expect(messageOf(line)).toContain(message)
    expect(messageOf(line)).not.toContain('\n')
  })
})

describe('droptest', () => {
  test('takes one drop', () => {
    expect(read('droptest a.mp4 --marks m.json --board b.json --mass-kg 1 --out d')).toEqual({
      ok: true,
      value: {
        kind: 'droptest',
        drops: [{ clipPath: 'a.mp4', marksPath: 'm.json', massKg: 1 }],
        boardPath: 'b.json',
        outDir: 'd',
        pdf: false,
        progress: false,
      },
    })
  })

  test('takes clips without marks, in which the plank is looked for', () => {
    expect(read('droptest a.mp4 b.mp4 --mass-kg 1 2 --out d')).toMatchObject({
      value: {
        drops: [
          { clipPath: 'a.mp4', massKg: 1 },
          { clipPath: 'b.mp4', massKg: 2 },
        ],
      },
    })
  })

  test.each([
    'droptest a.mp4 b.mp4 --marks m.json n.json --board b.json --mass-kg 1 2 --mass-at-m 3.2 3.1 --out d',
    'droptest a.mp4 --marks m.json --mass-kg 1 --mass-at-m 3.2 b.mp4 --marks n.json --mass-kg 2 --mass-at-m 3.1 --board b --out d',
    'droptest --mass-kg=1 --mass-kg=2 --mass-at-m=3.2 --mass-at-m=3.1 --marks m.json --marks n.json --board b --out d -- a.mp4 b.mp4',
  ])('takes several drops in the order of the line: %s', (line) => {
    expect(read(line)).toMatchObject({
      value: {
        drops: [
          { clipPath: 'a.mp4', marksPath: 'm.json', massKg: 1, massAtM: 3.2 },
          { clipPath: 'b.mp4', marksPath: 'n.json', massKg: 2, massAtM: 3.1 },
        ],
      },
    })
  })

  test.each([
    ['droptest a.mp4 --marks m.json --board b --out d', '--mass-kg is missing'],
    [
      'droptest a.mp4 b.mp4 --marks m.json --board b --mass-kg 1 2 --out d',
      '--marks must be given once for each clip, got 1 for 2',
    ],
    ['droptest a.mp4 --marks m.json --board b --mass-kg 1000 --out d', '--mass-kg must be a number from 0.1 to 20'],
  ])('"%s" is refused', (line, message) => {
    expect(messageOf(line)).toContain(message)
  })
})

test('help, version and doctor are commands', () => {
  expect(read('--help')).toEqual({ ok: true, value: { kind: 'help' } })
  expect(read('measure --help')).toEqual({ ok: true, value: { kind: 'help' } })
  expect(read('--version')).toEqual({ ok: true, value: { kind: 'version' } })
  expect(read('doctor')).toEqual({ ok: true, value: { kind: 'doctor' } })
})

describe('boardcheck', () => {
  test('takes drop-test files, a board, a rule set, a folder and the weight of the plank', () => {
    expect(read('boardcheck a.json b.json --board c.json --rules fci --plank-kg 12.5 --out d')).toEqual({
      ok: true,
      value: {
        kind: 'boardcheck',
        droptestPaths: ['a.json', 'b.json'],
        boardPath: 'c.json',
        rules: 'fci',
        plankKg: 12.5,
        outDir: 'd',
      },
    })
  })

  test.each([
    ['boardcheck --board b --rules uk --out d', 'boardcheck needs at least one droptest.json'],
    ['boardcheck a.json --board b --out d', '--rules is missing'],
    ['boardcheck a.json --board b --rules usdaa --out d', '--rules must be uk, uk-old, fci, akc or own, got "usdaa"'],
    ['boardcheck a.json --board b --rules uk --plank-kg heavy --out d', '--plank-kg must be a number from 1 to 100'],
  ])('"%s" is refused in one line', (line, message) => {
    expect(messageOf(line)).toContain(message)
  })
})

test('add takes clips, a dog and a board; rides come from the own library unless a file or another one is named', () => {
  expect(readCommand(['add', 'a.mp4', 'b.mp4', '--dog', 'Wren', '--board', 'Club'])).toEqual({
    ok: true,
    value: { kind: 'add', clipPaths: ['a.mp4', 'b.mp4'], dog: 'Wren', board: 'Club', progress: false },
  })
  const report = ['report', '--dog', 'Wren', '--out', 'o']
  expect(readCommand(report)).toMatchObject({ ok: true, value: { kind: 'report', dog: 'Wren', outDir: 'o' } })
  expect(readCommand([...report, '--library', 'l'])).toMatchObject({ ok: true, value: { libraryFolder: 'l' } })
  expect(readCommand([...report, '--library', 'l', '--rides', 'r'])).toMatchObject({
    ok: false,
    message: 'give either --rides or --library, not both; see tiphold --help',
  })
  expect(readCommand(['add', '--dog', 'Wren', '--board', 'Club'])).toMatchObject({ ok: false })
})
