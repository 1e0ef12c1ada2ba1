import { copyFileSync, mkdirSync, readFileSync, statSync, truncateSync, writeFileSync } from 'node:fs'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { ClipProblem, type ClipProblemCode } from '../../../../main/film/media/clip-problem.ts'
import { probeClip } from '../../../../main/film/media/probe-clip.ts'
import type { MediaFfmpeg } from '../../../../main/film/media/probed-clip.ts'
import { streamFrames } from '../../../../main/film/media/stream-frames.ts'
import { forEachFfmpeg } from './each-ffmpeg.ts'
import { clipFolder, ffmpeg, h264, makeClip, numberIn, tone } from './made-clips.ts'

const folder = clipFolder()
afterAll(folder.remove)

const indexFirst = ['-movflags', '+faststart']
const sound = ['-c:a', 'aac', '-shortest']

beforeAll(async () => {
  await makeClip(folder.path('good.mp4'), { second: tone, encode: [...h264, ...sound] })
  await makeClip(folder.path('good.mkv'), { second: tone, encode: [...h264, ...sound] })
  await makeClip(folder.path('index-first.mp4'), { second: tone, encode: [...h264, ...indexFirst, ...sound] })
  await makeClip(folder.path('one-frame.mp4'), { frames: 1 })
  await ffmpeg([...tone, '-c:a', 'aac', folder.path('song.mp4')])
  await ffmpeg([...tone, folder.path('song.wav')])
  await ffmpeg([...tone, '-c:a', 'libmp3lame', folder.path('song.mp3')])
  await makeClip(folder.path('picture.png'), { frames: 1, encode: [] })
  await makeClip(folder.path('picture.jpg'), { frames: 1, encode: [] })
  // A song with a cover picture has a video track that is none.
  const cover = ['-map', '0', '-map', '1', '-c', 'copy', '-disposition:v:0', 'attached_pic']
  await ffmpeg(['-i', folder.path('song.mp4'), '-i', folder.path('picture.jpg'), ...cover, folder.path('cover.mp4')])
  cut('good.mp4', 'no-index.mp4', 0.6)
  cut('index-first.mp4', 'cut.mp4', 0.6)
  cut('good.mkv', 'cut.mkv', 0.6)
  mkdirSync(folder.path('folder.mp4'))
  write('empty.mp4', '')
  write('zeros.mp4', Buffer.alloc(5000))
  write('noise.mp4', noise(5000))
  write('notes.mp4', 'Training on Tuesday.\n')
  // Each of these would make a careless reader open the good clip.
  const good = folder.path('good.mp4')
  write('playlist.mp4', `#EXTM3U\n#EXT-X-TARGETDURATION:2\n#EXTINF:2,\n${good}\n#EXT-X-ENDLIST\n`)
  write('list.mp4', `ffconcat version 1.0\nfile ${good}\n`)
  write('session.mp4', 'v=0\no=- 0 0 IN IP4 127.0.0.1\nc=IN IP4 127.0.0.1\nm=video 5000 RTP/AVP 96\n')
  write('manifest.mp4', `<?xml version="1.0"?><MPD><Period><BaseURL>${good}</BaseURL></Period></MPD>`)
  // A box of a movie, its contents nonsense.
  write('nonsense.mp4', Buffer.concat([readFileSync(good).subarray(0, 40), noise(3000)]))
})

const refused: readonly { readonly name: string; readonly code: ClipProblemCode; readonly says: RegExp }[] = [
  { name: 'missing.mp4', code: 'cannot-open', says: /no such file/ },
  { name: 'folder.mp4', code: 'cannot-open', says: /not a file/ },
  { name: 'empty.mp4', code: 'empty', says: /empty \(0 bytes\): copy it/ },
  { name: 'zeros.mp4', code: 'damaged', says: /nothing but zeros/ },
  { name: 'noise.mp4', code: 'not-a-video', says: /use MP4, MOV, MKV, WebM or AVI/ },
  { name: 'notes.mp4', code: 'not-a-video', says: /is a text file/ },
  { name: 'playlist.mp4', code: 'points-elsewhere', says: /playlist that points to other files/ },
  { name: 'list.mp4', code: 'points-elsewhere', says: /playlist that points to other files/ },
  { name: 'session.mp4', code: 'points-elsewhere', says: /playlist that points to other files/ },
  { name: 'manifest.mp4', code: 'points-elsewhere', says: /playlist that points to other files/ },
  { name: 'picture.png', code: 'still-picture', says: /still picture/ },
  { name: 'picture.jpg', code: 'still-picture', says: /still picture/ },
  { name: 'one-frame.mp4', code: 'still-picture', says: /a single picture/ },
  { name: 'song.mp4', code: 'sound-only', says: /sound but no video/ },
  { name: 'cover.mp4', code: 'sound-only', says: /sound but no video/ },
  { name: 'song.wav', code: 'sound-only', says: /sound but no video/ },
  { name: 'song.mp3', code: 'sound-only', says: /sound but no video/ },
  { name: 'no-index.mp4', code: 'damaged', says: /no index, so its recording or copying was cut off/ },
  { name: 'nonsense.mp4', code: 'damaged', says: /copy it from the phone again/ },
]

forEachFfmpeg((engine) => {
  test.each(refused)('$name is refused in one sentence as $code', async ({ name, code, says }) => {
    const problem = await problemOf(name, engine())
    expect(problem.code).toBe(code)
    expect(problem.message).toMatch(says)
    expect(problem.message).toMatch(/^[^\n]+[:,] [^\n]+\.$/)
    expect(problem.message).toContain(name)
  })

  describe.each(['cut.mp4', 'cut.mkv'])('of %s, the end of which is missing,', (name) => {
    test('what is there is read, and the lack is told', async () => {
      const clip = await probeClip(folder.path(name), engine())
      expect(clip.notes).toEqual([
        expect.stringMatching(/^The file is damaged or cut short.*1\.\d of 2\.0 s are there\.$/),
      ])
      const numbers: number[] = []
      for await (const frame of streamFrames(clip, engine())) numbers.push(numberIn(frame) - frame.index)
      expect(numbers.length).toBeGreaterThan(20)
      expect(numbers.length).toBeLessThan(60)
      // The last picture may be half there.
      expect(new Set(numbers.slice(0, -1))).toEqual(new Set([0]))
    })
  })

  test.each(['-dash %03d.mp4', "quote's, comma;colon:[x]=\\.mp4", 'høst.mp4'])(
    'a file may be called %s',
    async (name) => {
      copyFileSync(folder.path('good.mp4'), folder.path(name))
      const clip = await probeClip(folder.path(name), engine())
      expect(clip).toMatchObject({ fileName: name, video: { codec: 'h264' } })
      const frames = streamFrames(clip, engine())
      const first = await frames.next()
      await frames.return(undefined)
      expect(first.value).toMatchObject({ index: 0, ptsS: 0 })
    },
  )

  test('a clip that vanishes after it was probed is a problem, not a crash', async () => {
    const clip = await probeClip(folder.path('good.mp4'), engine())
    const gone = { ...clip, path: folder.path('gone.mp4') }
    await expect(streamFrames(gone, engine()).next()).rejects.toThrow(ClipProblem)
  })
})

test('an ffmpeg that cannot be started is a problem that names it', async () => {
  const nowhere = { ffmpegPath: folder.path('no-ffmpeg'), features: {} } as unknown as MediaFfmpeg
  expect((await problemOf('good.mp4', nowhere)).message).toMatch(/ffmpeg could not be started/)
})

async function problemOf(name: string, engine: MediaFfmpeg): Promise<ClipProblem> {
  const outcome: unknown = await probeClip(folder.path(name), engine).catch((error: unknown) => error)
  if (!(outcome instanceof ClipProblem)) throw new Error(`${name} gave ${String(outcome)}`)
  return outcome
}

function write(name: string, content: string | Uint8Array): void {
  writeFileSync(folder.path(name), content)
}

function cut(from: string, to: string, share: number): void {
  copyFileSync(folder.path(from), folder.path(to))
  truncateSync(folder.path(to), Math.round(statSync(folder.path(from)).size * share))
}

/** Bytes without order, the same each time. */
function noise(count: number): Buffer {
  let state = 12345
  return Buffer.from(Array.from({ length: count }, () => (state = (state * 1103515245 + 12345) % 2 ** 31) >> 16))
}
