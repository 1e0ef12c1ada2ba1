import { describe, expect, test } from 'vitest'
import { measured } from '../../../analysis/estimate.ts'
import type { Library } from '../../../main/library/library.ts'
import { markedPictures } from '../../../main/services/marked-pictures.ts'
import { meadowClip } from '../library/things.ts'

const at = (xPx: number, yPx: number) => ({ xPx, yPx })
const marks = (shiftPx = 0) => ({
  rest: {
    frame: 3,
    entryEnd: at(20 + shiftPx, 140),
    exitEnd: at(300, 40),
    pivot: at(160, 90),
    upContactEdge: at(90, 115),
    downContactEdge: at(230, 65),
  },
  grounded: { frame: 40, entryEnd: at(20 + shiftPx, 40), exitEnd: at(300, 140) },
  neverLands: false,
})
const clip = { ...meadowClip, setup: { ...meadowClip.setup, boardId: 'club' }, marks: marks() }
const drop = { sizes: { contactM: measured(0.9, 0.01) } }
const of = (...clips: readonly unknown[]) =>
  markedPictures({ clips: { list: () => clips } } as unknown as Pick<Library, 'clips'>, 'club')

describe('clips whose marks tell the sizes of a board', () => {
  test('are those of this board that are marked whole', () => {
    const other = { ...clip, setup: { ...clip.setup, boardId: 'home' } }
    const half = { ...clip, marks: { ...marks(), grounded: null } }
    expect(of(clip, other, half)).toMatchObject([
      { picture: { widthPx: 320, heightPx: 180 }, marks: { clip: 'meadow.mp4' } },
    ])
  })

  test('count once where one was marked like the other: they share its errors', () => {
    expect(of(clip, { ...clip, id: 'next' }, { ...clip, marks: marks(2) })).toHaveLength(2)
  })

  test('are left out where their drops tell the sizes already', () => {
    expect(of({ ...clip, drop: { boardId: 'club', drop } })).toEqual([])
    expect(of({ ...clip, drop: { boardId: 'club', drop: {} } })).toHaveLength(1)
  })
})
