import { spawn } from 'node:child_process'

export interface ProgramResult {
  readonly stdout: Buffer
  readonly stderr: string
  readonly exitCode: number
}

export type ProgramOutcome =
  ({ readonly kind: 'ended' } & ProgramResult) | { readonly kind: 'not-run'; readonly why: string }

/**
 * Runs a program without a shell, feeds it `input` and gathers what it says.
 * It is stopped after `limitMs`; a program that cannot be started is an outcome, not an exception.
 */
export function runProgram(
  path: string,
  args: readonly string[],
  input: Uint8Array,
  limitMs: number,
): Promise<ProgramOutcome> {
  return new Promise((resolve) => {
    const child = spawn(path, args, { stdio: 'pipe', windowsHide: true })
    const stdout: Buffer[] = []
    const stderr: Buffer[] = []
    let late = false
    const timer = setTimeout(() => {
      late = true
      child.kill('SIGKILL')
    }, limitMs)
    child.stdout.on('data', (chunk: Buffer) => stdout.push(chunk))
    child.stderr.on('data', (chunk: Buffer) => stderr.push(chunk))
    // A program that refuses its options closes its input early; its exit code tells the story.
    child.stdin.on('error', () => undefined)
    child.on('error', (error: NodeJS.ErrnoException) => {
      clearTimeout(timer)
      resolve({ kind: 'not-run', why: whyNotStarted(error) })
    })
    child.on('close', (code, signal) => {
      clearTimeout(timer)
      if (late) resolve({ kind: 'not-run', why: `it did not answer within ${limitMs / 1000} s` })
      else if (code === null) resolve({ kind: 'not-run', why: `it was ended by ${signal ?? 'a signal'}` })
      else {
        resolve({
          kind: 'ended',
          stdout: Buffer.concat(stdout),
          stderr: Buffer.concat(stderr).toString('utf8'),
          exitCode: code,
        })
      }
    })
    child.stdin.end(input)
  })
}

function whyNotStarted(error: NodeJS.ErrnoException): string {
  if (error.code === 'ENOENT') return 'there is no such file'
  if (error.code === 'EACCES') return 'the file may not be executed'
  return `it could not be started (${error.code ?? error.message})`
}
