import { expect, test } from 'vitest'
import { mayBeSaved } from '../../../../main/hosts/electron/permissions.ts'

test('only what the window made itself may be saved', () => {
  expect(mayBeSaved('blob:app://tiphold/6f1f0c0e-0000-4000-8000-000000000000')).toBe(true)
  for (const address of ['https://tiphold/a.pdf', 'app://tiphold/index.html', 'blob:https://elsewhere/1', 'data:,a'])
    expect(mayBeSaved(address)).toBe(false)
})
