import { basename } from 'node:path'
import type { Marks } from '../../analysis/board/marks.ts'
import type { Failure } from '../measuring/measured-ride.ts'
import { harmlessLine } from './harmless-text.ts'
import { type CommandEnd, exitCodes } from './command.ts'

export function wrongUsage(message: string): CommandEnd {
  return { exitCode: exitCodes.wrongUsage, lines: [], complaint: message }
}

/**
 * The end of a measurement that failed; `marksPath` names the file where its marks are at fault, and is absent where the
 * program found them.
 */
export function failed(failure: Failure, marksPath: string | undefined): CommandEnd {
  switch (failure.kind) {
    case 'bad-marks':
      if (marksPath === undefined)
        return {
          exitCode: exitCodes.nothingMeasured,
          lines: [],
          complaint: `What was taken for the plank does not fit the board: ${failure.detail} Mark the plank by hand and give the file with --marks.`,
        }
      return wrongUsage(`${marksPath}: ${failure.detail}`)
    case 'unreadable':
      return { exitCode: exitCodes.unreadableClip, lines: [], complaint: failure.detail }
    case 'nothing':
      return { exitCode: exitCodes.nothingMeasured, lines: [], complaint: failure.detail }
  }
}

/** A warning when marks were made on another clip than the one they are used for; null when all is well. */
export function marksOfOtherClip(marks: Marks, clipPath: string, marksPath: string): string | null {
  const fileName = basename(clipPath)
  if (marks.clip === fileName) return null
  return `${marksPath}: was marked on ${harmlessLine(marks.clip)}, not on ${harmlessLine(fileName)}; the numbers are wrong if that is another film`
}
