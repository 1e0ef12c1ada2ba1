import { expect, test } from 'vitest'
import type { RideRecord } from '../../../main/library/library.ts'
import { RecentRecords } from '../../../main/library/recent-records.ts'
import { meadowRide } from './things.ts'

function counted(): { readonly records: RecentRecords; readonly asked: string[] } {
  const asked: string[] = []
  const records = new RecentRecords((id, part) => {
    asked.push(`${id} ${part}`)
    return id === 'broken' ? Promise.reject(new Error('cannot be read')) : Promise.resolve({ ...meadowRide.record })
  })
  return { records, asked }
}

test('a record is read once while nothing else is, also for two who ask at the same time', async () => {
  const { records, asked } = counted()
  const [first, second] = await Promise.all([records.get('a', 'one'), records.get('a', 'one')])
  const third: RideRecord = await records.get('a', 'one')
  expect([second === first, third === first, asked]).toEqual([true, true, ['a one']])
})

test('another part of the same ride is another record', async () => {
  const { records, asked } = counted()
  await records.get('a', 'one')
  await records.get('a', 'two')
  expect(asked).toEqual(['a one', 'a two'])
})

test('of three rides the one used longest ago is read anew', async () => {
  const { records, asked } = counted()
  for (const id of ['a', 'b', 'a', 'c', 'a', 'b']) await records.get(id, 'x')
  expect(asked).toEqual(['a x', 'b x', 'c x', 'b x'])
})

test('a record that cannot be read is tried anew', async () => {
  const { records, asked } = counted()
  await expect(records.get('broken', 'x')).rejects.toThrow('cannot be read')
  await expect(records.get('broken', 'x')).rejects.toThrow('cannot be read')
  expect(asked).toHaveLength(2)
})
