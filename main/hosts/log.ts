import { appendFileSync, mkdirSync } from 'node:fs'
import { dirname } from 'node:path'
import { inspect } from 'node:util'
import type { Log } from './answer.ts'

/** Writes what went wrong to the terminal. */
export const logToTerminal: Log = (line, error) => {
  console.error(`Tiphold ${line}`)
  if (error !== undefined) console.error(error)
}

/** Writes what went wrong into a file as well: a program that was started by a click has no terminal. */
export function logToFile(path: string): Log {
  mkdirSync(dirname(path), { recursive: true })
  return (line, error) => {
    logToTerminal(line, error)
    const detail = error === undefined ? '' : `${inspect(error)}\n`
    appendFileSync(path, `${new Date().toISOString()} ${line}\n${detail}`)
  }
}
