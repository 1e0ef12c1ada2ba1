import { expect, test } from 'vitest'
import { mayBeSaved, mayRecord } from '../../../../main/hosts/electron/permissions.ts'

test('only what the window made itself may be saved', () => {
  expect(mayBeSaved('blob:app://tiphold/6f1f0c0e-0000-4000-8000-000000000000')).toBe(true)
  for (const address of ['https://tiphold/a.pdf', 'app://tiphold/index.html', 'blob:https://elsewhere/1', 'data:,a'])
    expect(mayBeSaved(address)).toBe(false)
})

test('only our own page may record, and only sound', () => {
  expect(mayRecord('media', 'app://tiphold/index.html', ['audio'])).toBe(true)
  expect(mayRecord('media', 'app://tiphold', ['audio'])).toBe(true)
  for (const wanted of [['video'], ['audio', 'video'], ['unknown'], []])
    expect(mayRecord('media', 'app://tiphold/', wanted)).toBe(false)
  for (const address of ['https://tiphold/', 'app://tiphold.example/', 'file:///tmp/review.html', ''])
    expect(mayRecord('media', address, ['audio'])).toBe(false)
  for (const permission of ['display-capture', 'geolocation', 'speaker-selection'])
    expect(mayRecord(permission, 'app://tiphold/', ['audio'])).toBe(false)
})
