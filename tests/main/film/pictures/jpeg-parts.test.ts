import { expect, test } from 'vitest'
import { JpegParts } from '../../../../main/film/pictures/jpeg-parts.ts'

const pictures = [
  Buffer.from('first\r\n\r\nContent-length: 3'),
  Buffer.from([0xff, 0xd9, 0xff, 0xd8]),
  Buffer.from('third'),
]
const stream = Buffer.concat(
  pictures.flatMap((picture) => [
    Buffer.from(`--ffmpeg\r\nContent-type: image/jpeg\r\nContent-length: ${picture.length}\r\n\r\n`),
    picture,
    Buffer.from('\r\n'),
  ]),
)

test.each([1, 7, 50, 10_000])('pictures come out whole when the stream comes in pieces of %d bytes', (size) => {
  const parts = new JpegParts()
  const out: Buffer[] = []
  for (let at = 0; at < stream.length; at += size) out.push(...parts.put(stream.subarray(at, at + size)))
  expect(out.map(String)).toEqual(pictures.map(String))
})

test('a part that does not say how long it is stops the reading', () => {
  expect(() => new JpegParts().put(Buffer.from('--ffmpeg\r\nContent-type: image/jpeg\r\n\r\nxyz'))).toThrow(/how long/)
})
