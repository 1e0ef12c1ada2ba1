import { describe, expect, test } from 'vitest'
import { parseMarks } from '../../../main/files/marks-file.ts'

const points = {
  entryEnd: [284, 501],
  exitEnd: [1017.2, 267.4],
  pivot: [633.1, 390.8],
  upContactEdge: [453.7, 449],
  downContactEdge: [818.6, 333.2],
}
const rest = { frame: 8, timeS: 0.27, points }
const grounded = { frame: 109, points: { entryEnd: [285.8, 272], exitEnd: [1018.6, 518.8] } }
const file = { schema: 'marks/1', clip: 'biscuit.mp4', frames: [rest, grounded] }

function messageOf(value: unknown): string {
  const marks = parseMarks(value, 'marks.json')
  if (marks.ok) throw new Error('accepted')
  return marks.message
}

describe('a marks file', () => {
  test('holds the resting and the grounded board', () => {
    expect(parseMarks(file, 'marks.json')).toEqual({
      ok: true,
      value: {
        clip: 'biscuit.mp4',
        rest: {
          frame: 8,
          entryEnd: { xPx: 284, yPx: 501 },
          exitEnd: { xPx: 1017.2, yPx: 267.4 },
          pivot: { xPx: 633.1, yPx: 390.8 },
          upContactEdge: { xPx: 453.7, yPx: 449 },
          downContactEdge: { xPx: 818.6, yPx: 333.2 },
        },
        grounded: { frame: 109, entryEnd: { xPx: 285.8, yPx: 272 }, exitEnd: { xPx: 1018.6, yPx: 518.8 } },
      },
    })
  })

  test('may lack the grounded board', () => {
    const marks = parseMarks({ ...file, frames: [rest] }, 'marks.json')
    expect(marks.ok && marks.value.grounded).toBeUndefined()
  })

  test('may say more in every place', () => {
    const more = { ...file, by: 'Ann', frames: [{ ...rest, sure: true, points: { ...points, peg: [1, 2] } }] }
    expect(parseMarks(more, 'marks.json').ok).toBe(true)
  })

  test.each([
    [{ ...file, schema: 'marks/2' }, 'marks.json: schema must be "marks/1", got "marks/2"'],
    [
      { ...file, frames: [] },
      'marks.json: frames must hold one frame (the board at rest) or two (and with the exit end grounded), got 0',
    ],
    [
      { ...file, frames: rest },
      'marks.json: frames must be a list [ ... ], got {"frame":8,"timeS":0.27,"points":{"en...',
    ],
    [{ ...file, frames: [{ ...rest, frame: 8.5 }] }, 'marks.json: frames[0].frame must be a whole number, got 8.5'],
    [{ ...file, frames: [{ ...rest, frame: -1 }] }, 'marks.json: frames[0].frame must be from 0 to 10000000, got -1'],
    [
      { ...file, frames: [{ ...rest, points: { ...points, pivot: [633.1] } }] },
      'marks.json: frames[0].points.pivot must be two numbers [x, y], got 1 of them',
    ],
    [
      { ...file, frames: [rest, { frame: 109, points: { entryEnd: [285.8, 272] } }] },
      'marks.json: frames[1].points.exitEnd is missing; add it',
    ],
    [
      { ...file, frames: [rest, { ...grounded, points: { entryEnd: [285, 272], exitEnd: [285, 'down'] } }] },
      'marks.json: frames[1].points.exitEnd.y must be a number, got "down"',
    ],
    [
      { ...file, frames: [rest, { ...grounded, points: { entryEnd: [285, 272], exitEnd: [288, 276] } }] },
      'marks.json: frames[1].points.exitEnd must be at least 60 px from entryEnd, got 5.0 px; mark both ends of the plank',
    ],
    [
      { ...file, frames: [rest, { ...grounded, frame: 8 }] },
      "marks.json: frames[1].frame must be another frame than the resting board's, got 8 for both",
    ],
  ])('%#: is refused in one line', (value, message) => {
    expect(messageOf(value)).toBe(message)
  })
})
