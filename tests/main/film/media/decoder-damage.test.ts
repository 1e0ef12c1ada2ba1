import { describe, expect, test } from 'vitest'
import { DamageMarker, saysDamage } from '../../../../main/film/media/decoder-damage.ts'
import type { VideoTrack } from '../../../../main/film/media/probed-clip.ts'

// As ffmpeg 5.1 and the build of 2018 wrote them for H.264 clips with flipped bits.
test.each([
  '[h264 @ 0x55d0c8] [info] concealing 1186 DC, 1186 AC, 1186 MV errors in P frame',
  '[h264 @ 0x55d0c8] [error] error while decoding MB 12 30, bytestream -6',
  '[h264 @ 0x55d0c8] [error] left block unavailable for requested intra4x4 mode -1',
  '[warning] x.mp4: corrupt decoded frame in stream 0',
  '[error] Error while decoding stream #0:0: Invalid data found when processing input',
])('%s is a complaint about a picture', (line) => {
  expect(saysDamage(line)).toBe(true)
})

test.each([
  '[info] 0.040000',
  '[warning] -vsync is deprecated. Use -fps_mode',
  '[null @ 0x961ef40] [error] Application provided invalid, non monotonically increasing dts to muxer in stream 0: 5 >= 5',
  '[h264 @ 0x55d0c8] [error] mmco: unref short failure',
  '[h264 @ 0x55d0c8] [error] co located POCs unavailable',
  '[aac @ 0x55d0c8] [error] channel element 1.0 is not allocated',
])('%s is none', (line) => {
  expect(saysDamage(line)).toBe(false)
})

describe('damage is marked', () => {
  const isKeyFrame = Uint8Array.from({ length: 60 }, (_, i) => (i % 20 === 0 ? 1 : 0))
  const damagedOf = (complaintsAt: (index: number) => number, indices = [...isKeyFrame.keys()]): number[] => {
    const marker = new DamageMarker({ isKeyFrame } as VideoTrack, 2)
    return indices.filter((index) => marker.isDamaged(index, complaintsAt(index), true))
  }
  const range = (from: number, to: number) => Array.from({ length: to - from }, (_, i) => from + i)

  test('nowhere when nobody complains', () => {
    expect(damagedOf(() => 0)).toEqual([])
  })

  test('from a complaint to the next key frame', () => {
    expect(damagedOf((index) => (index >= 5 ? 1 : 0))).toEqual(range(5, 20))
  })

  test('through a key frame that the decoder may already have been at', () => {
    expect(damagedOf((index) => (index >= 18 ? 1 : 0))).toEqual(range(18, 40))
  })

  test('to the end when no key frame follows', () => {
    expect(damagedOf((index) => (index >= 50 ? 1 : 0))).toEqual(range(50, 60))
  })

  test('after a frame that did not come', () => {
    const without30 = [...isKeyFrame.keys()].filter((index) => index !== 30)
    expect(damagedOf(() => 0, without30)).toEqual(range(31, 40))
  })
})
