import { expect, test } from 'vitest'
import { readStreamReport } from '../../../../main/film/media/stream-report.ts'

/** As ffmpeg 5.1 says it of a clip from an Android phone (shortened). */
const modern = `[info] Input #0, mov,mp4,m4a,3gp,3g2,mj2, from 'file:/clips/a.mp4':
[info]   Metadata:
[info]     major_brand     : mp42
[info]     creation_time   : 2025-05-01T09:12:13.000000Z
[info]     com.android.version: 14
[info]     com.android.capture.fps: 240.000000
[info]   Duration: 00:01:04.80, start: 0.000000, bitrate: 886 kb/s
[info]   Stream #0:0[0x1](eng): Video: hevc (Main 10) (hvc1 / 0x31637668), yuv420p10le(tv, bt2020nc/bt2020/arib-std-b67), 1920x1080, 778 kb/s, 30.02 fps, 30 tbr, 90k tbn (default)
[info]     Metadata:
[info]       handler_name    : VideoHandle
[info]     Side data:
[info]       displaymatrix: rotation of -90.00 degrees
[info]   Stream #0:1[0x2](eng): Audio: aac (LC) (mp4a / 0x6134706D), 48000 Hz, stereo, fltp, 96 kb/s (default)
[info]     Metadata:
[info]       handler_name    : SoundHandle
[info] Stream mapping:
[info]   Stream #0:0 -> #0:0 (copy)
[info] Output #0, framecrc, to 'pipe:1':
[info]   Stream #0:0(eng): Video: hevc, 99x99, q=2-31`

/** As ffmpeg of 2018 says it. */
const old = `[info] Input #0, matroska,webm, from 'file:/clips/b.mkv':
[info]   Metadata:
[info]     ENCODER         : Lavf58.24.100
[info]   Duration: 00:00:02.03, start: -0.007000, bitrate: 93 kb/s
[info]     Chapter #0:0: start 0.000000, end 2.000000
[info]     Metadata:
[info]       title           : not a tag of the clip
[info]     Stream #0:0: Video: h264 (High), yuv420p, 160x96 [SAR 4:3 DAR 20:9], 1k fps, 30 tbr, 1k tbn, 60 tbc
[info]     Metadata:
[info]       DURATION        : 00:00:02.000000000
[info]     Stream #0:1(und): Video: mjpeg, yuvj420p(pc), 64x64, 90k tbr, 90k tbn, 90k tbc (attached pic)
[info]     Stream #0:2: Audio: opus, 48000 Hz, mono, fltp (default)
[info] Press [q] to stop, [?] for help`

test('tracks, tags, rates and rotation are read from a modern log', () => {
  const report = readStreamReport(modern.split('\n'))
  expect(report.statedDurationS).toBeCloseTo(64.8, 9)
  expect(report.tags.get('com.android.capture.fps')).toBe('240.000000')
  expect(report.tags.get('creation_time')).toBe('2025-05-01T09:12:13.000000Z')
  expect(report.videos).toHaveLength(1)
  expect(report.videos[0]).toMatchObject({
    streamIndex: 0,
    codec: 'hevc',
    areaPx: 1920 * 1080,
    isDefault: true,
    statedRateHz: 30.02,
    rotationDeg: 90,
  })
  expect(report.sounds).toEqual([{ streamIndex: 1, codec: 'aac', rateHz: 48000 }])
})

test('tracks and tags are read from an old log, chapters left out', () => {
  const report = readStreamReport(old.split('\n'))
  expect(report.statedDurationS).toBeCloseTo(2.03, 9)
  expect([...report.tags]).toEqual([['encoder', 'Lavf58.24.100']])
  expect(report.videos.map(({ streamIndex, codec }) => [streamIndex, codec])).toEqual([
    [0, 'h264'],
    [1, 'mjpeg'],
  ])
  expect(report.videos[0]).toMatchObject({ isDefault: false, statedRateHz: 1000, rotationDeg: 0 })
  expect(report.sounds).toEqual([{ streamIndex: 2, codec: 'opus', rateHz: 48000 }])
})

test('a log without an input tells of nothing', () => {
  const report = readStreamReport(['[error] file.mp4: Invalid data found when processing input'])
  expect(report).toMatchObject({ videos: [], sounds: [], statedDurationS: null })
})
