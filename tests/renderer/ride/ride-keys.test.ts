import { expect, test } from 'vitest'
import { rideKey } from '../../../renderer/ride/ride-keys.ts'

const press = (key: string, held: Partial<Record<'shiftKey' | 'ctrlKey' | 'metaKey' | 'altKey', boolean>> = {}) =>
  rideKey({ key, shiftKey: false, ctrlKey: false, metaKey: false, altKey: false, ...held })

test('arrows, comma and point step by one frame, with Shift by ten', () => {
  expect(press('ArrowLeft')).toEqual({ kind: 'step', frames: -1 })
  expect(press('.')).toEqual({ kind: 'step', frames: 1 })
  expect(press('>', { shiftKey: true })).toEqual({ kind: 'step', frames: 10 })
  expect(press('ArrowLeft', { shiftKey: true })).toEqual({ kind: 'step', frames: -10 })
})

test('undo and redo are those of every program, with Ctrl or Cmd', () => {
  expect(press('z', { ctrlKey: true })).toEqual({ kind: 'undo' })
  expect(press('Z', { metaKey: true, shiftKey: true })).toEqual({ kind: 'redo' })
  expect(press('y', { ctrlKey: true })).toEqual({ kind: 'redo' })
})

test('each overlay has its letter, and letters with Ctrl or Alt are left to others', () => {
  expect(['b', 'Z', 'p', 'd'].map((key) => press(key))).toEqual(
    ['plank', 'zones', 'paws', 'dog'].map((overlay) => ({ kind: 'overlay', overlay })),
  )
  expect(press('p', { ctrlKey: true })).toBeNull()
  expect(press('ArrowLeft', { altKey: true })).toBeNull()
  expect(press('x')).toBeNull()
})
