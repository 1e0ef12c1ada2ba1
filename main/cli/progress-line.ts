import type { OnProgress, Progress } from '../measuring/measured-ride.ts'

/** Where progress is told. */
export interface ProgressOutput {
  readonly isTTY?: boolean
  write(text: string): unknown
}

/** On a terminal the line is renewed so often; elsewhere, when asked for, there is a new one so often. */
const renewMs = 100
const repeatMs = 2000

/**
 * Tells how far a measurement has come: one line that renews itself on a terminal, a line now and then where that was
 * asked for, else nothing.
 *
 * @param now current time in ms, for tests
 */
export class ProgressLine {
  readonly #output: ProgressOutput
  readonly #isLive: boolean
  readonly #isQuiet: boolean
  readonly #now: () => number
  #doing = ''
  #startedMs = 0
  #toldMs = -Infinity
  #isShown = false

  constructor(output: ProgressOutput, isAskedFor: boolean, now: () => number = Date.now) {
    this.#output = output
    this.#isLive = output.isTTY === true
    this.#isQuiet = !this.#isLive && !isAskedFor
    this.#now = now
  }

  readonly update: OnProgress = (progress) => {
    if (this.#isQuiet) return
    const nowMs = this.#now()
    const isNew = progress.doing !== this.#doing
    if (isNew) {
      this.#doing = progress.doing
      this.#startedMs = nowMs
    }
    const isDone = progress.framesTotal > 0 && progress.framesDone >= progress.framesTotal
    const pauseMs = this.#isLive ? renewMs : repeatMs
    if (!isNew && !isDone && nowMs - this.#toldMs < pauseMs) return
    this.#toldMs = nowMs
    const text = progressText(progress, (nowMs - this.#startedMs) / 1000)
    this.#output.write(this.#isLive ? `\r\u001b[K${text}` : `${text}\n`)
    this.#isShown = this.#isLive
  }

  /** Takes the line away, so that other lines can follow. */
  clear(): void {
    if (this.#isShown) this.#output.write('\r\u001b[K')
    this.#isShown = false
  }
}

/** "following the board: 412 of 1200 frames, 96 a second, 8 s left"; only what is done where frames are not counted. */
export function progressText({ doing, framesDone, framesTotal }: Progress, elapsedS: number): string {
  if (framesTotal === 0) return doing
  const done = `${doing}: ${framesDone} of ${framesTotal} frames`
  if (framesDone === 0 || elapsedS < 0.5) return done
  const rateHz = framesDone / elapsedS
  const leftS = Math.ceil(Math.max(framesTotal - framesDone, 0) / rateHz)
  return `${done}, ${rateHz.toFixed(rateHz < 10 ? 1 : 0)} a second, ${timeLeft(leftS)} left`
}

function timeLeft(leftS: number): string {
  return leftS < 100 ? `${leftS} s` : `${Math.round(leftS / 60)} min`
}
