/** What ffmpeg says about an input file before it works on it, taken from its log (level in brackets before each line). */
export interface StreamReport {
  readonly videos: readonly VideoLine[]
  readonly sounds: readonly SoundLine[]
  /** The container's tags, names in lower case. */
  readonly tags: ReadonlyMap<string, string>
  /** How long the container says it is, s; null when it does not say. */
  readonly statedDurationS: number | null
}

export interface VideoLine {
  readonly streamIndex: number
  readonly codec: string
  /** Stored size, px. */
  readonly areaPx: number
  readonly isDefault: boolean
  readonly statedRateHz: number | null
  /** Clockwise turn for display, degrees from 0 up to 360. */
  readonly rotationDeg: number
  readonly tags: ReadonlyMap<string, string>
}

export interface SoundLine {
  readonly streamIndex: number
  readonly codec: string
  readonly rateHz: number
}

/** Reads the part of ffmpeg's log that describes the input. Cover pictures count as video tracks here. */
export function readStreamReport(log: readonly string[]): StreamReport {
  const videos: VideoLine[] = []
  const sounds: SoundLine[] = []
  const tags = new Map<string, string>()
  let statedDurationS: number | null = null
  let owner: Map<string, string> | null = null
  for (const line of inputPart(log)) {
    const stream = /^\s*Stream #0:(\d+).*?: (Video|Audio|\w+): (.*)$/.exec(line)
    const duration = /^\s*Duration: (\d+):(\d+):([\d.]+)/.exec(line)
    const tag = /^\s+([^\s:][^:]*?)\s*: (.*)$/.exec(line)
    if (stream !== null) {
      const [, index, kind, text] = stream as unknown as [string, string, string, string]
      owner = new Map()
      if (kind === 'Video') videos.push(videoLine(Number(index), text, owner))
      if (kind === 'Audio') sounds.push(soundLine(Number(index), text))
    } else if (duration !== null) {
      statedDurationS = Number(duration[1]) * 3600 + Number(duration[2]) * 60 + Number(duration[3])
      owner = null
    } else if (line.startsWith('Input #0')) owner = tags
    else if (/^\s*(Chapters?|Program) /.test(line)) owner = null
    else if (tag !== null && owner !== null) owner.set(tag[1]!.toLowerCase(), tag[2]!)
  }
  return { videos: videos.map(withRotation), sounds, tags, statedDurationS }
}

function inputPart(log: readonly string[]): string[] {
  const plain = log.map((line) => line.replace(/\[\w+\] /, ''))
  const from = plain.findIndex((line) => line.startsWith('Input #0'))
  if (from < 0) return []
  const to = plain.findIndex((line, i) => i > from && /^(Output #0|Stream mapping:|Press )/.test(line))
  return plain.slice(from, to < 0 ? plain.length : to)
}

function videoLine(streamIndex: number, text: string, tags: ReadonlyMap<string, string>): VideoLine {
  const size = /, (\d+)x(\d+)/.exec(text)
  const rate = /, ([\d.]+)(k?) fps/.exec(text)
  return {
    streamIndex,
    codec: firstWord(text),
    areaPx: size === null ? 0 : Number(size[1]) * Number(size[2]),
    isDefault: text.includes('(default)'),
    statedRateHz: rate === null ? null : Number(rate[1]) * (rate[2] === 'k' ? 1000 : 1),
    rotationDeg: 0,
    tags,
  }
}

/** The display matrix is printed among the tags, counter-clockwise: `displaymatrix: rotation of -90.00 degrees`. */
function withRotation(video: VideoLine): VideoLine {
  const matrix = /rotation of (-?[\d.]+)/.exec(video.tags.get('displaymatrix') ?? '')
  if (matrix === null) return video
  return { ...video, rotationDeg: (360 - Number(matrix[1])) % 360 }
}

function soundLine(streamIndex: number, text: string): SoundLine {
  return { streamIndex, codec: firstWord(text), rateHz: Number(/(\d+) Hz/.exec(text)?.[1] ?? 0) }
}

function firstWord(text: string): string {
  return /^\w+/.exec(text)?.[0] ?? 'unknown'
}
