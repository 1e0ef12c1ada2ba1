import { parseArgs } from 'node:util'
import { BOARD_LIMITS } from '../../analysis/board/board-limits.ts'
import { SLOW_MOTION_LIMITS } from '../../analysis/clip/slow-motion.ts'
import type { Parsed } from '../files/json-object.ts'
import type { Command, DroptestCommand, MeasureCommand } from './command.ts'

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
  if (name === undefined) throw new UsageFault('say what to do: measure, droptest or doctor')
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
    default:
      throw new UsageFault(`"${name}" is no command: give measure, droptest or doctor`)
  }
}

function refuseMore(command: string, { plain }: Line): void {
  const [more] = plain
  if (more !== undefined) throw new UsageFault(`${command} takes nothing more, got "${more.text}"`)
}

function measureFrom(args: readonly string[]): MeasureCommand {
  const values = ['marks', 'board', 'out', 'slow-motion', 'from', 'to']
  const line = split(args, values, ['overlay', 'progress'])
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
    marksPath: line.one('marks'),
    boardPath: line.one('board'),
    outDir: line.one('out'),
    ...(slowMotion === undefined ? {} : { slowMotion }),
    ...(fromS === undefined ? {} : { fromS }),
    ...(toS === undefined ? {} : { toS }),
    overlay: line.flags.has('overlay'),
    progress: line.flags.has('progress'),
  }
}

function droptestFrom(args: readonly string[]): DroptestCommand {
  const line = split(args, ['marks', 'board', 'out', 'mass-kg', 'mass-at-m'], ['progress'])
  // "--marks a.json b.json" is taken as "--marks a.json --marks b.json", and so are numbers after a mass.
  const clipPaths: string[] = []
  for (const { text, after } of line.plain) {
    const isMore = (after === 'marks' && text.endsWith('.json')) || (isMassOption(after) && isNumber(text))
    if (isMore && after !== null) line.add(after, text)
    else clipPaths.push(text)
  }
  if (clipPaths.length === 0) throw new UsageFault('droptest needs a clip')
  const count = clipPaths.length
  const marksPaths = line.all('marks', count)
  const massesKg = line.all('mass-kg', count).map((text) => number('mass-kg', text, 0.05, 50))
  const placesM = line.has('mass-at-m')
    ? line.all('mass-at-m', count).map((text) => number('mass-at-m', text, 0, BOARD_LIMITS.lengthM.max))
    : []
  return {
    kind: 'droptest',
    drops: clipPaths.map((clipPath, k) => ({
      clipPath,
      marksPath: marksPaths[k]!,
      massKg: massesKg[k]!,
      ...(placesM[k] === undefined ? {} : { massAtM: placesM[k] }),
    })),
    boardPath: line.one('board'),
    outDir: line.one('out'),
    progress: line.flags.has('progress'),
  }
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
