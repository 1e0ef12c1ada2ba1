import { expect, test } from 'vitest'
import { PacketListReader } from '../../../../main/film/media/packet-list.ts'

const lines = `#tb 0: 1/15360
#media_type 0: video
#tb 1: 1/44100
0,      -1024,          0,      512,    58226, 0xb094908b
1,      -1024,      -1024,     1024,      331, 0xd3b6ad58, F=0x5, S=1,       10
0,       -512,       2048,      512,     9684, 0x1a65cb3a, F=0x0
0,          0, -9223372036854775808,      512,     1425, 0x57a8bb17, F=0x0
1,          0,          0,     1024,      393, 0x7656bd8c`
const log = ['[info]   Stream #0:1 -> #0:0 (copy)', '[info]   Stream #0:2 -> #0:1 (copy)']

test('packets carry seconds and key flags, by the stream of the input', () => {
  const reader = new PacketListReader()
  for (const line of lines.split('\n')) reader.readLine(line)
  const list = reader.byInputStream(log)
  expect([...list.keys()]).toEqual([1, 2])
  expect(list.get(1)?.map(({ rawS, isKey }) => [rawS, isKey])).toEqual([
    [0, true],
    [2048 / 15360, false],
    [NaN, false],
  ])
  expect(list.get(1)?.[0]?.durationS).toBeCloseTo(1 / 30, 12)
})

test('packets that are not to be shown are left out', () => {
  const reader = new PacketListReader()
  for (const line of lines.split('\n')) reader.readLine(line)
  expect(
    reader
      .byInputStream(log)
      .get(2)
      ?.map((packet) => packet.rawS),
  ).toEqual([0])
})
