import { runProgram } from '../../film/engines/run-program.ts'

/** How H.264 is written on this machine: ffmpeg's own arguments. */
export interface FilmEncoder {
  readonly name: string
  readonly args: readonly string[]
}

/** No encoder of this ffmpeg writes H.264. The message says what to do. */
export class NoFilmEncoder extends Error {
  constructor() {
    super('This ffmpeg cannot write H.264 films: install another ffmpeg, or set TIPHOLD_FFMPEG to the path of one.')
    this.name = 'NoFilmEncoder'
  }
}

/** The best first. Those of systems and cards are only there where the machine has them. */
const ENCODERS: readonly FilmEncoder[] = [
  { name: 'libx264', args: ['-bf', '0', '-preset', 'veryfast', '-crf', '20'] },
  { name: 'h264_videotoolbox', args: ['-b:v', '6M'] },
  { name: 'h264_mf', args: ['-b:v', '6M'] },
  { name: 'h264_nvenc', args: ['-bf', '0', '-b:v', '6M'] },
  { name: 'h264_qsv', args: ['-bf', '0', '-b:v', '6M'] },
  { name: 'h264_amf', args: ['-b:v', '6M'] },
  { name: 'libopenh264', args: ['-b:v', '6M'] },
]

const LONGEST_TEST_MS = 20_000
const chosen = new Map<string, Promise<FilmEncoder>>()

/** The first encoder that this ffmpeg writes a tiny film with; looked for once a process. Throws `NoFilmEncoder`. */
export function filmEncoder(ffmpegPath: string): Promise<FilmEncoder> {
  const known = chosen.get(ffmpegPath)
  if (known !== undefined) return known
  const looking = firstThatWrites(ffmpegPath)
  chosen.set(ffmpegPath, looking)
  looking.catch(() => chosen.delete(ffmpegPath))
  return looking
}

async function firstThatWrites(ffmpegPath: string): Promise<FilmEncoder> {
  const listed = await runProgram(ffmpegPath, ['-hide_banner', '-encoders'], new Uint8Array(), LONGEST_TEST_MS)
  const list = listed.kind === 'ended' ? listed.stdout.toString() : ''
  for (const encoder of ENCODERS) {
    if (list.split(/\s+/).includes(encoder.name) && (await writes(ffmpegPath, encoder))) return encoder
  }
  throw new NoFilmEncoder()
}

async function writes(ffmpegPath: string, { name, args }: FilmEncoder): Promise<boolean> {
  const [widthPx, heightPx] = [320, 180]
  const twoFrames = new Uint8Array(2 * 1.5 * widthPx * heightPx).fill(128)
  const run = await runProgram(
    ffmpegPath,
    [
      ...[
        '-hide_banner',
        '-loglevel',
        'error',
        '-f',
        'rawvideo',
        '-pix_fmt',
        'yuv420p',
        '-s',
        `${widthPx}x${heightPx}`,
      ],
      ...['-i', 'pipe:0', '-c:v', name, ...args, '-pix_fmt', 'yuv420p', '-f', 'h264', 'pipe:1'],
    ],
    twoFrames,
    LONGEST_TEST_MS,
  )
  return run.kind === 'ended' && run.exitCode === 0 && run.stdout.length > 0
}
