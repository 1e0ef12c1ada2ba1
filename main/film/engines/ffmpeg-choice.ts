import { type Candidate, type EngineSource, ffmpegCandidates, ffprobeCandidates } from './engine-candidates.ts'
import { type FfmpegFeatures, type SelfTest, testFfmpeg, testFfprobe } from './ffmpeg-self-test.ts'

/** The ffmpeg and ffprobe in use, and why. */
export interface FfmpegChoice {
  readonly ffmpegPath: string
  /** Null when no ffprobe passed its self-test. */
  readonly ffprobePath: string | null
  readonly version: string
  /** When it was built; null when it does not say. */
  readonly year: number | null
  readonly source: EngineSource
  readonly features: FfmpegFeatures
  readonly ffprobeVersion: string | null
  readonly ffprobeSource: EngineSource | null
  /** Every place looked at, in order, first for ffmpeg, then for ffprobe. */
  readonly considered: readonly Considered[]
}

export interface Considered {
  readonly program: 'ffmpeg' | 'ffprobe'
  readonly source: EngineSource
  readonly path: string | null
  readonly outcome: 'chosen' | 'absent' | 'refused' | 'not-needed'
  /** One sentence for people. */
  readonly why: string
}

/** No ffmpeg works on this machine. The message says what to do. */
export class NoFfmpegError extends Error {
  readonly considered: readonly Considered[]
  constructor(considered: readonly Considered[]) {
    super('No working ffmpeg was found. Install ffmpeg, or set TIPHOLD_FFMPEG to the path of one.')
    this.name = 'NoFfmpegError'
    this.considered = considered
  }
}

/** Set for the program's own processes: what it has tried out and chosen, as JSON. */
const CHOSEN = 'TIPHOLD_FFMPEG_CHOSEN'

let choice: Promise<FfmpegChoice> | null = null
let chosen: FfmpegChoice | null = null

/**
 * The first ffmpeg that passes a self-test; looked for once a program, whose processes take over what it has chosen.
 * Throws `NoFfmpegError` when none does.
 */
export function chooseFfmpeg(): Promise<FfmpegChoice> {
  choice ??= choose()
  return choice
}

async function choose(): Promise<FfmpegChoice> {
  const handedOn = process.env[CHOSEN]
  chosen = handedOn === undefined ? await chooseFfmpegFor(process.env) : (JSON.parse(handedOn) as FfmpegChoice)
  return chosen
}

/** Environment variables by which a process of ours takes over the choice; none as long as nothing is chosen. */
export function choiceHandedOn(): Readonly<Record<string, string>> {
  return chosen === null ? {} : { [CHOSEN]: JSON.stringify(chosen) }
}

/** As `chooseFfmpeg`, for given environment variables and places to look, and without memory. */
export async function chooseFfmpegFor(
  env: Readonly<Record<string, string | undefined>>,
  candidates: readonly Candidate[] = ffmpegCandidates(env),
): Promise<FfmpegChoice> {
  const ffmpeg = await firstThatPasses('ffmpeg', candidates, testFfmpeg)
  if (ffmpeg.winner === null) throw new NoFfmpegError(ffmpeg.considered)
  const { path, source, test } = ffmpeg.winner
  const ffprobe = await firstThatPasses('ffprobe', ffprobeCandidates(env, path), testFfprobe)
  return {
    ffmpegPath: path,
    ffprobePath: ffprobe.winner?.path ?? null,
    version: test.version,
    year: test.year,
    source,
    features: test.features,
    ffprobeVersion: ffprobe.winner?.test.version ?? null,
    ffprobeSource: ffprobe.winner?.source ?? null,
    considered: [...ffmpeg.considered, ...ffprobe.considered],
  }
}

interface Winner<Passed> {
  readonly path: string
  readonly source: EngineSource
  readonly test: Passed
}

async function firstThatPasses<Passed>(
  program: Considered['program'],
  candidates: readonly Candidate[],
  selfTest: (path: string) => Promise<SelfTest<Passed>>,
): Promise<{ winner: Winner<Passed> | null; considered: Considered[] }> {
  const considered: Considered[] = []
  let winner: Winner<Passed> | null = null
  for (const candidate of candidates) {
    const { source } = candidate
    if (candidate.kind === 'absent') {
      considered.push({ program, source, path: null, outcome: 'absent', why: candidate.why })
      continue
    }
    const { path } = candidate
    if (winner !== null) {
      considered.push({ program, source, path, outcome: 'not-needed', why: 'one before it passed the self-test' })
      continue
    }
    const test = await selfTest(path)
    if (test.kind === 'failed') {
      considered.push({ program, source, path, outcome: 'refused', why: test.why })
      continue
    }
    winner = { path, source, test }
    considered.push({ program, source, path, outcome: 'chosen', why: 'the first that passed the self-test' })
  }
  return { winner, considered }
}
