import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Board } from '../../../analysis/board/board.ts'
import type { ImagePx } from '../../../analysis/geometry/points.ts'
import type { MarksDraft } from '../../../main/contract/clips.ts'

const clips = join(import.meta.dirname, '../../../sample-clips/clips')

interface MarksFile {
  readonly frames: readonly { readonly frame: number; readonly points: Record<string, readonly [number, number]> }[]
}

export function wrenMarks(): MarksDraft {
  return sampleMarks('wren-hold')
}

/** The marks of a sample clip as a draft of the window. */
export function sampleMarks(name: string): MarksDraft {
  const { frames } = JSON.parse(readFileSync(join(clips, `${name}.marks.json`), 'utf8')) as MarksFile
  const [rest, grounded] = frames
  const at = (frame: MarksFile['frames'][number] | undefined, name: string): ImagePx => {
    const [xPx, yPx] = frame!.points[name]!
    return { xPx, yPx }
  }
  return {
    rest: {
      frame: rest!.frame,
      entryEnd: at(rest, 'entryEnd'),
      exitEnd: at(rest, 'exitEnd'),
      pivot: at(rest, 'pivot'),
      upContactEdge: at(rest, 'upContactEdge'),
      downContactEdge: at(rest, 'downContactEdge'),
    },
    grounded: {
      frame: grounded!.frame,
      entryEnd: at(grounded, 'entryEnd'),
      exitEnd: at(grounded, 'exitEnd'),
    },
    neverLands: false,
  }
}

export const wrenBoard = JSON.parse(readFileSync(join(clips, 'wren-hold.board.json'), 'utf8')) as Board
export const wrenPicture = { widthPx: 960, heightPx: 540 }
