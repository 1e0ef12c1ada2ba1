/** What a handler may say: how many times slower a clip plays than it was filmed. */
export const SLOW_MOTION_LIMITS = { min: 1, max: 64 } as const

/** How much a clip is slowed, and how we know. */
export interface SlowMotion {
  /** Capture rate / stored rate. */
  readonly factor: number
  /** A sentence for the user. */
  readonly evidence: string
  /** False when tags and movement disagree or only the movement speaks. */
  readonly isSure: boolean
}

/** What the file says about its speed. */
export interface ClipTags {
  /** `com.android.capture.fps` or the like, Hz; null when there is no such tag. */
  readonly captureRateHz: number | null
  /** Frames per second of the file's own time. */
  readonly storedRateHz: number
}

/** What was seen, timed as if the clip were not slowed. */
export interface SeenPace {
  /** From tip to landing, s; null when not seen. */
  readonly dropTimeS: number | null
  /** The dog's speed up the plank, m/s; null when not seen. */
  readonly climbSpeedMps: number | null
}

const FACTORS = [1, 2, 4, 8] as const
/**
 * How common each factor is among clips without a tag that tells: our judgement, no source. Eight times (240 shown at
 * 30) is what phones do by themselves.
 */
const PRIOR: Readonly<Record<number, number>> = { 1: 0.9, 2: 0.01, 4: 0.02, 8: 0.07 }
/** Boards take about 0.9 s to fall under a dog, most between 0.4 and 2.2 s (common practice, no source). */
const DROP = { medianS: 0.9, logSd: 0.45 }
/**
 * Dogs spend 1.31 s on the 3.66 m teeter on average (Pechette Markley et al., Front Vet Sci 2024): 2.8 m/s; in training
 * they are slower, most between 0.8 and 6 m/s (our judgement, no source).
 */
const CLIMB = { medianMps: 2.2, logSd: 0.5 }
/** Movement overrules the file only when it is this much likelier: "strong" from 20 on (Kass and Raftery 1995). */
const STRONG = 20

/**
 * What the file's tags say. A capture rate alone proves nothing (a real-time 240 fps clip carries it too): the clip is
 * slowed when it is well above the stored rate.
 *
 * @param tags rates in Hz
 * @returns for example 240 captured and 30 stored: factor 8
 */
export function slowMotionFromTags(tags: ClipTags): SlowMotion {
  const { captureRateHz, storedRateHz } = tags
  if (captureRateHz === null) {
    return { factor: 1, evidence: 'The file does not say that it is slowed.', isSure: false }
  }
  const ratio = captureRateHz / storedRateHz
  const factor = FACTORS.find((f) => Math.abs(Math.log(ratio / f)) < 0.12)
  if (factor === undefined || factor === 1) {
    return {
      factor: 1,
      evidence: `The file says: filmed at ${round(captureRateHz)}, stored at ${round(storedRateHz)} frames per second, so not slowed.`,
      isSure: factor === 1,
    }
  }
  return {
    factor,
    evidence: `The file says: filmed at ${round(captureRateHz)}, stored at ${round(storedRateHz)} frames per second, so slowed ${factor} times.`,
    isSure: true,
  }
}

/**
 * Checks a factor against how fast board and dog moved.
 *
 * @param used the factor that the times were measured with; @param seen with times of that factor, s and m/s
 * @param said what the file's tags say
 * @returns the factor that fits best; another than `used` only on strong evidence
 */
export function slowMotionFromPace(used: number, seen: SeenPace, said: SlowMotion): SlowMotion {
  const weight = (factor: number): number => {
    const more = factor / used
    let log = Math.log(said.isSure && factor === said.factor ? 30 * (PRIOR[factor] ?? 0.01) : (PRIOR[factor] ?? 0.01))
    if (seen.dropTimeS !== null) log -= 0.5 * (Math.log(seen.dropTimeS / more / DROP.medianS) / DROP.logSd) ** 2
    if (seen.climbSpeedMps !== null && seen.climbSpeedMps > 0) {
      log -= 0.5 * (Math.log((seen.climbSpeedMps * more) / CLIMB.medianMps) / CLIMB.logSd) ** 2
    }
    return Math.exp(log)
  }
  const best = FACTORS.reduce<number>((a, b) => (weight(b) > weight(a) ? b : a), used)
  if (best === used || weight(best) < STRONG * weight(used)) return { ...said, factor: used }
  const drop = seen.dropTimeS === null ? '' : `the board would have taken ${round(seen.dropTimeS)} s to fall`
  const climb = seen.climbSpeedMps === null ? '' : `the dog would have climbed at ${round(seen.climbSpeedMps)} m/s`
  const why = [drop, climb].filter((part) => part !== '').join(' and ')
  return {
    factor: best,
    evidence: `${said.evidence} But at ${used === 1 ? 'full speed' : `${used} times`} ${why}: ${best === 1 ? 'taken as not slowed' : `taken as slowed ${best} times`}. Set the factor yourself if this is wrong.`,
    isSure: false,
  }
}

function round(value: number): string {
  return String(Math.round(value * 100) / 100)
}
