import { type ChildProcess, spawn } from 'node:child_process'
import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

/** What came of a trial of faults: how often what was tried, and everything that went wrong, a sentence each. */
export interface TrialResult {
  readonly name: string
  readonly counts: Readonly<Record<string, number>>
  readonly faults: readonly string[]
  /** Why it could not be tried here; null when it was. */
  readonly skipped: string | null
}

/** `kills: 200 kills, 6,120 acknowledged changes, nothing wrong` */
export function trialLine({ name, counts, faults, skipped }: TrialResult): string {
  if (skipped !== null) return `${name}: skipped, because ${skipped}`
  const counted = Object.entries(counts).map(([what, count]) => `${count.toLocaleString('en')} ${what}`)
  const wrong = faults.length === 0 ? 'nothing wrong' : `${faults.length} WRONG`
  return `${name}: ${[...counted, wrong].join(', ')}`
}

/** Longer than anything here takes on the slowest machine: what has not ended by then hangs, ms. */
const HANGS_AFTER_MS = 180_000

/** What `work` gives; a fault when it has not ended after a very long time. */
export async function orHangs<T>(what: string, work: Promise<T>): Promise<T> {
  let timer: NodeJS.Timeout | undefined
  const hangs = new Promise<never>((_resolve, reject) => {
    timer = setTimeout(() => reject(new Error(`${what} hangs`)), HANGS_AFTER_MS)
  })
  try {
    return await Promise.race([work, hangs])
  } finally {
    clearTimeout(timer)
  }
}

/** Gives a new folder to `work` and removes it after it. */
export async function inFolder<T>(work: (folder: string) => Promise<T>): Promise<T> {
  const folder = await mkdtemp(join(tmpdir(), 'tiphold-trial-'))
  try {
    return await work(folder)
  } finally {
    await rm(folder, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 })
  }
}

/** A program of the trials in a process of its own, and what it says, line by line. */
export interface TalkingChild {
  readonly child: ChildProcess
  readonly lines: readonly string[]
  /** Settles when a line for which this holds was said; throws when the program ends before. */
  said(isIt: (line: string) => boolean): Promise<string>
  readonly ended: Promise<void>
}

export function startChild(file: string, args: readonly string[]): TalkingChild {
  const path = join(import.meta.dirname, file)
  const child = spawn(process.execPath, ['--import', 'tsx', path, ...args], { stdio: ['pipe', 'pipe', 'pipe'] })
  const lines: string[] = []
  const waiting = new Set<() => void>()
  let complaint = ''
  let begun = ''
  let hasEnded = false
  child.stderr.setEncoding('utf8').on('data', (text: string) => (complaint += text))
  child.stdout.setEncoding('utf8').on('data', (text: string) => {
    const parts = (begun + text).split('\n')
    begun = parts.pop() ?? ''
    lines.push(...parts)
    for (const look of waiting) look()
  })
  const ended = new Promise<void>((resolve) => {
    child.on('close', () => {
      hasEnded = true
      for (const look of waiting) look()
      resolve()
    })
  })
  return {
    child,
    lines,
    ended,
    said: (isIt) =>
      new Promise((resolve, reject) => {
        const look = () => {
          const line = lines.find(isIt)
          if (line === undefined && !hasEnded) return
          waiting.delete(look)
          if (line === undefined) reject(new Error(`${file} ended before it said so. ${complaint.slice(-500)}`))
          else resolve(line)
        }
        waiting.add(look)
        look()
      }),
  }
}
