import { type Outcome, problem, type ProblemCode, success } from '../contract/outcome.ts'

/** Why the library cannot do something. The message is one sentence: what is wrong and what to do. */
export class LibraryProblem extends Error {
  readonly code: ProblemCode
  constructor(code: ProblemCode, message: string) {
    super(message)
    this.name = 'LibraryProblem'
    this.code = code
  }
}

/** What a service answers: the value, or the library's problem. Anything else that is thrown is a bug, and thrown on. */
export async function answered<T>(work: () => Promise<T> | T): Promise<Outcome<T>> {
  try {
    return success(await work())
  } catch (error) {
    if (error instanceof LibraryProblem) return problem(error.code, error.message)
    throw error
  }
}

/** What was found; where it is null, the problem that nothing was, in a sentence. */
export function thereOr<T>(found: T | null, sentence: string): T {
  if (found === null) throw new LibraryProblem('not-found', sentence)
  return found
}

/** An error of the file system as a sentence; a `LibraryProblem` as it is. */
export function libraryProblem(error: unknown, folder: string): LibraryProblem {
  if (error instanceof LibraryProblem) return error
  const code = error instanceof Error && 'code' in error ? error.code : undefined
  switch (code) {
    case 'ENOSPC':
    case 'EDQUOT':
      return new LibraryProblem('failed', `The disk that holds the library (${folder}) is full: free some space.`)
    case 'EACCES':
    case 'EPERM':
      return new LibraryProblem('failed', `The library folder ${folder} may not be written: change its permissions.`)
    case 'EROFS': {
      const advice = 'make it writable, or open a library elsewhere with TIPHOLD_LIBRARY'
      return new LibraryProblem('failed', `The disk that holds the library (${folder}) is read-only: ${advice}.`)
    }
    case 'ENOENT':
    case 'ENOTDIR':
    case 'EIO':
      return new LibraryProblem('failed', `The library folder ${folder} cannot be reached: is its drive connected?`)
    default: {
      const why = error instanceof Error ? error.message : String(error)
      return new LibraryProblem('failed', `The library folder ${folder} could not be written (${why}).`)
    }
  }
}
