import { rideRecordOf } from '../library/ride-record.ts'
import { measureClip } from '../measuring/measure-clip.ts'
import { measureDrops } from '../measuring/measure-drops.ts'
import type { Progress } from '../measuring/measured-ride.ts'
import type { FromMeasuring, MeasuringOrder, ToMeasuring } from './measuring-messages.ts'
import { openWorkerPort } from './worker-port.ts'

/** The program of the measuring process: it measures one clip, tells how far it is, and hands the rides over. */

/** Progress is told at most so often, ms. */
const TELL_EVERY_MS = 100

const port = openWorkerPort()
const stop = new AbortController()

port.onMessage((message) => {
  const told = message as ToMeasuring
  if (told.kind === 'measure') void measure(told.order)
  else {
    // Ends the ffmpeg that is reading; then there is nothing left to do here.
    stop.abort()
    process.exit()
  }
})

function tell(message: FromMeasuring): void {
  port.post(message)
}

async function measure(order: MeasuringOrder): Promise<void> {
  try {
    tell(await (order.weight === undefined ? measuredRides(order) : measuredDrop(order, order.weight)))
  } catch (error) {
    if (stop.signal.aborted) return
    console.error(error)
    tell({
      kind: 'failed',
      message: 'Measuring failed through a fault in Tiphold: please report it, with the clip if you can.',
    })
  }
}

const OTHER_FILM: FromMeasuring = {
  kind: 'failed',
  message: 'Another clip is now stored under this name: show where the right one is.',
}

async function measuredRides({ sha256, ...order }: MeasuringOrder): Promise<FromMeasuring> {
  const outcome = await measureClip({ ...order, signal: stop.signal, onProgress: tenTimesASecond() })
  if (outcome.kind !== 'measured') {
    const looksLikeDropTest = outcome.kind === 'nothing' && outcome.looksLikeDropTest === true
    return { kind: 'failed', message: outcome.detail, ...(looksLikeDropTest ? { looksLikeDropTest } : {}) }
  }
  if (outcome.source.clip.sha256 !== sha256) return OTHER_FILM
  return { kind: 'measured', rides: outcome.rides.map(rideRecordOf) }
}

async function measuredDrop(
  order: MeasuringOrder,
  weight: NonNullable<MeasuringOrder['weight']>,
): Promise<FromMeasuring> {
  const { clipPath, marks, board, origins, sha256 } = order
  const outcome = await measureDrops({
    drops: [{ clipPath, marks, ...weight }],
    board,
    ...(origins === undefined ? {} : { origins }),
    signal: stop.signal,
    onProgress: tenTimesASecond(),
  })
  if (outcome.kind !== 'measured') return { kind: 'failed', message: outcome.detail }
  const [first, ...further] = outcome.drops
  if (first === undefined) return { kind: 'failed', message: 'No drop was found in this clip.' }
  if (first.source.clip.sha256 !== sha256) return OTHER_FILM
  return { kind: 'dropped', drops: [first.drop, ...further.map(({ drop }) => drop)] }
}

/** Tells a new step and its end at once, and what lies between now and then. */
function tenTimesASecond(): (progress: Progress) => void {
  let step: Progress['step'] | null = null
  let toldMs = 0
  return (progress) => {
    const isNews = progress.step !== step || progress.framesDone === progress.framesTotal
    if (!isNews && performance.now() - toldMs < TELL_EVERY_MS) return
    step = progress.step
    toldMs = performance.now()
    tell({ kind: 'progress', progress })
  }
}
