import { describe, expect, test } from 'vitest'
import { parseBoard } from '../../../main/files/board-file.ts'

const club = { lengthM: 3.66, widthM: 0.3, pivotHeightM: 0.61, contactM: 0.914 }

function messageOf(value: unknown): string {
  const board = parseBoard(value, 'board.json')
  if (board.ok) throw new Error('accepted')
  return board.message
}

describe('a board file', () => {
  test('with the four sizes is a board', () => {
    expect(parseBoard(club, 'board.json')).toEqual({ ok: true, value: club })
  })

  test('may say more, also what nobody knows', () => {
    const more = { ...club, thicknessM: 0.04, axisBelowTopM: 0.045, massKg: 12, materialWord: 'wood' }
    expect(parseBoard({ ...more, paint: 'blue' }, 'board.json')).toEqual({ ok: true, value: more })
  })

  test.each([
    [{ ...club, lengthM: undefined }, 'board.json: lengthM is missing; add it'],
    [{ ...club, lengthM: null }, 'board.json: lengthM is missing; add it'],
    [{ ...club, widthM: '30 cm' }, 'board.json: widthM must be a number, got "30 cm"'],
    [
      { ...club, lengthM: 366 },
      'board.json: lengthM must be from 1 to 4.3 m, got 366 m; give metres, not cm: 366 cm is 3.66',
    ],
    [
      { ...club, contactM: 36 },
      'board.json: contactM must be from 0.1 to 2 m, got 36 m; give metres, not cm: 36 cm is 0.36',
    ],
    [
      { ...club, lengthM: 12 },
      'board.json: lengthM must be from 1 to 4.3 m, got 12 m; give metres, not feet: 12 feet is 3.658',
    ],
    [{ ...club, axisBelowTopM: -1 }, 'board.json: axisBelowTopM must be from 0 to 0.1 m, got -1 m; measure it again'],
    [{ ...club, massKg: 0 }, 'board.json: massKg must be from 1 to 100 kg, got 0 kg'],
    [
      { ...club, lengthM: 1.8 },
      'board.json: contactM must be less than half of lengthM (0.9 m), got 0.914 m; it is the length of one zone, from its end',
    ],
    [[club], 'board.json: the file must be an object { ... }, got [{"lengthM":3.66,"widthM":0.3,"pivotH...'],
    [null, 'board.json: the file must be an object { ... }, got null'],
  ])('%j is refused in one line', (value, message) => {
    expect(messageOf(value)).toBe(message)
  })
})
