import { parseArgs } from 'node:util'
import { BOARD_LIMITS } from '../../analysis/board/board-limits.ts'
import { SLOW_MOTION_LIMITS } from '../../analysis/clip/slow-motion.ts'
import { alternatives } from '../../analysis/words/in-words.ts'
import { TEST_WEIGHT_KG } from '../../analysis/drop/drop-test.ts'
import { DROP_RULES } from '../contract/drops.ts'
import { SHOW_RULES } from '../contract/seasons.ts'
import type { Parsed } from '../files/parsed.ts'
import type { RidesSource } from '../outputs/progress/rides-source.ts'
import type {
  AddCommand,
  BackupCommand,
  BoardcheckCommand,
  Command,
  DroptestCommand,
  MeasureCommand,
  ReportCommand,
  RestoreCommand,
  ShowcheckCommand,
} from './command.ts'

/** The end of a message about a command line. */
const seeHelp = '; see tiphold --help'

/** Thrown for a wrong command line and caught by `readCommand`; the message is one line. */
class UsageFault extends Error {}

/** Reads a command line, without the program's own name; the message of a wrong one is a single line. */
export function readCommand(args: readonly string[]): Parsed<Command> {
  try {
    return { ok: true, value: commandFrom(args) }
  } catch (error) {
    if (error instanceof UsageFault) return { ok: false, message: `${error.message}${seeHelp}` }
    throw error
  }
}

function commandFrom([name, ...rest]: readonly string[]): Command {
  if (name === undefined)
    throw new UsageFault(
      'say what to do: measure, droptest, boardcheck, add, report, showcheck, backup, restore or doctor',
    )
  if (name === '--help' || name === '-h' || name === 'help' || rest.includes('--help')) return { kind: 'help' }
  switch (name) {
    case '--version':
      return { kind: 'version' }
    case 'doctor':
      refuseMore('doctor', split(rest, [], []))
      return { kind: 'doctor' }
    case 'measure':
      return measureFrom(rest)
    case 'droptest':
      return droptestFrom(rest)
    case 'boardcheck':
      return boardcheckFrom(rest)
    case 'add':
      return addFrom(rest)
    case 'report':
      return reportFrom(rest)
    case 'backup':
      return backupFrom(rest)
    case 'restore':
      return restoreFrom(rest)
    case 'showcheck':
      return showcheckFrom(rest)
    default:
      throw new UsageFault(
        `"${name}" is no command: give measure, droptest, boardcheck, add, report, showcheck, backup, restore or doctor`,
      )
  }
}

function refuseMore(command: string, { plain }: Line): void {
  const [more] = plain
  if (more !== undefined) throw new UsageFault(`${command} takes nothing more, got "${more.text}"`)
}

function measureFrom(args: readonly string[]): MeasureCommand {
  const values = ['marks', 'board', 'out', 'slow-motion', 'from', 'to']
  const line = split(args, values, ['overlay', 'pdf', 'progress'])
  const [clipPath, ...more] = line.plain.map(({ text }) => text)
  if (clipPath === undefined) throw new UsageFault('measure needs a clip')
  if (more.length > 0) throw new UsageFault(`measure takes one clip, got ${more.length + 1} (the second: "${more[0]}")`)
  const slowMotion = line.optionalNumber('slow-motion', SLOW_MOTION_LIMITS.min, SLOW_MOTION_LIMITS.max)
  const fromS = line.optionalNumber('from', 0, 1e6)
  const toS = line.optionalNumber('to', 0, 1e6)
  if (toS !== undefined && toS <= (fromS ?? 0))
    throw new UsageFault(`--to must be later than ${fromS ?? 0} s, got ${toS} s`)
  return {
    kind: 'measure',
    clipPath,
    ...(line.has('marks') ? { marksPath: line.one('marks') } : {}),
    ...(line.has('board') ? { boardPath: line.one('board') } : {}),
    outDir: line.one('out'),
    ...(slowMotion === undefined ? {} : { slowMotion }),
    ...(fromS === undefined ? {} : { fromS }),
    ...(toS === undefined ? {} : { toS }),
    overlay: line.flags.has('overlay'),
    pdf: line.flags.has('pdf'),
    progress: line.flags.has('progress'),
  }
}

function droptestFrom(args: readonly string[]): DroptestCommand {
  const line = split(args, ['marks', 'board', 'out', 'mass-kg', 'mass-at-m'], ['pdf', 'progress'])
  // "--marks a.json b.json" is taken as "--marks a.json --marks b.json", and so are numbers after a mass.
  const clipPaths: string[] = []
  for (const { text, after } of line.plain) {
    const isMore = (after === 'marks' && text.endsWith('.json')) || (isMassOption(after) && isNumber(text))
    if (isMore && after !== null) line.add(after, text)
    else clipPaths.push(text)
  }
  if (clipPaths.length === 0) throw new UsageFault('droptest needs a clip')
  const count = clipPaths.length
  const marksPaths = line.has('marks') ? line.all('marks', count) : []
  const massesKg = line
    .all('mass-kg', count)
    .map((text) => number('mass-kg', text, TEST_WEIGHT_KG.min, TEST_WEIGHT_KG.max))
  const placesM = line.has('mass-at-m')
    ? line.all('mass-at-m', count).map((text) => number('mass-at-m', text, 0, BOARD_LIMITS.lengthM.max))
    : []
  return {
    kind: 'droptest',
    drops: clipPaths.map((clipPath, k) => ({
      clipPath,
      ...(marksPaths[k] === undefined ? {} : { marksPath: marksPaths[k] }),
      massKg: massesKg[k]!,
      ...(placesM[k] === undefined ? {} : { massAtM: placesM[k] }),
    })),
    ...(line.has('board') ? { boardPath: line.one('board') } : {}),
    outDir: line.one('out'),
    pdf: line.flags.has('pdf'),
    progress: line.flags.has('progress'),
  }
}

function reportFrom(args: readonly string[]): ReportCommand {
  const line = split(args, ['dog', 'rides', 'library', 'out'], [])
  onlyOptions('report', line)
  return { kind: 'report', dog: line.one('dog'), ...sourceFrom(line), outDir: line.one('out') }
}

/** A file of rides or a library; the user's own library where neither is given. */
function sourceFrom(line: Line): RidesSource {
  if (line.has('rides') && line.has('library')) throw new UsageFault('give either --rides or --library, not both')
  if (line.has('rides')) return { ridesPath: line.one('rides') }
  return line.has('library') ? { libraryFolder: line.one('library') } : {}
}

function addFrom(args: readonly string[]): AddCommand {
  const line = split(args, ['dog', 'board', 'library'], ['progress'])
  if (line.plain.length === 0) throw new UsageFault('add needs at least one clip')
  return {
    kind: 'add',
    clipPaths: line.plain.map(({ text }) => text),
    dog: named(line, 'dog'),
    board: named(line, 'board'),
    ...(line.has('library') ? { libraryFolder: line.one('library') } : {}),
    progress: line.flags.has('progress'),
  }
}

function backupFrom(args: readonly string[]): BackupCommand {
  const line = split(args, ['out', 'library'], [])
  onlyOptions('backup', line)
  const libraryFolder = line.has('library') ? { libraryFolder: line.one('library') } : {}
  return { kind: 'backup', outPath: line.one('out'), ...libraryFolder }
}

function restoreFrom(args: readonly string[]): RestoreCommand {
  const line = split(args, ['library'], [])
  const [backup, ...more] = line.plain
  if (backup === undefined || more.length > 0) throw new UsageFault('restore takes one backup file')
  return { kind: 'restore', backupPath: backup.text, libraryFolder: line.one('library') }
}

function named(line: Line, option: string): string {
  const name = line.one(option).trim()
  if (name === '' || name.length > 80) throw new UsageFault(`--${option} must be a name of 1 to 80 characters`)
  return name
}

function showcheckFrom(args: readonly string[]): ShowcheckCommand {
  const line = split(args, ['dog', 'board', 'drop-time-s', 'rules', 'rides', 'library', 'out'], [])
  onlyOptions('showcheck', line)
  const dropTimeS = line.optionalNumber('drop-time-s', 0.05, 10)
  if (line.has('board') === (dropTimeS !== undefined)) {
    throw new UsageFault('showcheck needs a board: give either --board NAME or --drop-time-s S')
  }
  const rules = oneOf(SHOW_RULES, line)
  return {
    kind: 'showcheck',
    dog: line.one('dog'),
    ...(dropTimeS === undefined ? { board: line.one('board') } : { dropTimeS }),
    rules,
    ...sourceFrom(line),
    outDir: line.one('out'),
  }
}

function boardcheckFrom(args: readonly string[]): BoardcheckCommand {
  const line = split(args, ['board', 'rules', 'plank-kg', 'library', 'out'], ['progress'])
  if (line.plain.length === 0) throw new UsageFault('boardcheck needs at least one droptest.json')
  const rules = oneOf(DROP_RULES, line)
  const plankKg = line.optionalNumber('plank-kg', 1, 100)
  return {
    kind: 'boardcheck',
    droptestPaths: line.plain.map(({ text }) => text),
    boardPath: line.one('board'),
    rules,
    ...(plankKg === undefined ? {} : { plankKg }),
    ...(line.has('library') ? { libraryFolder: line.one('library') } : {}),
    outDir: line.one('out'),
  }
}

/** The rule set that a command line names, among those the command knows. */
function oneOf<Key extends string>(known: readonly Key[], line: Line): Key {
  const named = line.one('rules')
  const rules = known.find((key) => key === named)
  if (rules === undefined) throw new UsageFault(`--rules must be ${alternatives(known)}, got "${named}"`)
  return rules
}

function onlyOptions(command: string, { plain }: Line): void {
  const [first] = plain
  if (first !== undefined) throw new UsageFault(`${command} takes options only, got "${first.text}"`)
}

/** A command line taken apart. */
class Line {
  /** What belongs to no option, with the option whose value stands right before it. */
  readonly plain: { readonly text: string; readonly after: string | null }[] = []
  readonly flags = new Set<string>()
  readonly #values = new Map<string, string[]>()

  add(option: string, value: string): void {
    this.#values.set(option, [...(this.#values.get(option) ?? []), value])
  }

  has(option: string): boolean {
    return this.#values.has(option)
  }

  one(option: string): string {
    const values = this.#values.get(option) ?? []
    if (values.length > 1) throw new UsageFault(`--${option} is given ${values.length} times: give it once`)
    const [value] = values
    if (value === undefined) throw new UsageFault(`--${option} is missing`)
    return value
  }

  /** One value for each clip. */
  all(option: string, count: number): readonly string[] {
    const values = this.#values.get(option) ?? []
    if (values.length === 0) throw new UsageFault(`--${option} is missing`)
    if (values.length !== count) {
      throw new UsageFault(`--${option} must be given once for each clip, got ${values.length} for ${count}`)
    }
    return values
  }

  optionalNumber(option: string, min: number, max: number): number | undefined {
    return this.has(option) ? number(option, this.one(option), min, max) : undefined
  }
}

function split(args: readonly string[], valueOptions: readonly string[], flags: readonly string[]): Line {
  const line = new Line()
  let after: string | null = null
  for (const token of tokens(args, valueOptions, flags)) {
    if (token.kind === 'option-terminator') after = null
    else if (token.kind === 'positional') line.plain.push({ text: token.value, after })
    else if (token.value === undefined) {
      line.flags.add(token.name)
      after = null
    } else {
      line.add(token.name, token.value)
      after = token.name
    }
  }
  return line
}

function tokens(args: readonly string[], valueOptions: readonly string[], flags: readonly string[]) {
  const options: Record<string, { readonly type: 'string' | 'boolean'; readonly multiple: true }> = {}
  for (const name of valueOptions) options[name] = { type: 'string', multiple: true }
  for (const name of flags) options[name] = { type: 'boolean', multiple: true }
  try {
    return parseArgs({ args: [...args], options, allowPositionals: true, strict: true, tokens: true }).tokens
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? String(error.code) : ''
    if (!(error instanceof Error) || !code.startsWith('ERR_PARSE_ARGS')) throw error
    // Only the first sentence: the others are about command lines in general.
    throw new UsageFault((error.message.split(/[.\n]/)[0] ?? '').replace(/^\w/, (first) => first.toLowerCase()))
  }
}

function number(option: string, text: string, min: number, max: number): number {
  const value = Number(text)
  if (!isNumber(text) || value < min || value > max) {
    throw new UsageFault(`--${option} must be a number from ${min} to ${max}, got "${text}"`)
  }
  return value
}

function isNumber(text: string): boolean {
  return text.trim() !== '' && Number.isFinite(Number(text))
}

function isMassOption(option: string | null): boolean {
  return option === 'mass-kg' || option === 'mass-at-m'
}
