import { useEffect, useRef, useState } from 'react'
import type { Fit } from './fit.ts'
import type { FitAnswer, FitQuestion } from './fit-worker.ts'

/** The worker with what it is to be asked. */
interface Desk {
  readonly worker: Worker
  /** What it works on; null while it rests. */
  asked: FitQuestion | null
  newest: FitQuestion | null
}

/**
 * The fit to the newest marks, made beside the window. While a point is dragged the worker is asked again as soon as it
 * has answered; the last fit stays until the next is there. Null without a question.
 */
export function useFit(question: FitQuestion | null): Fit | null {
  const [answer, setAnswer] = useState<FitAnswer | null>(null)
  const desk = useRef<Desk | null>(null)

  useEffect(() => {
    const worker = new Worker(new URL('./fit-worker.ts', import.meta.url), { type: 'module' })
    const opened: Desk = { worker, asked: null, newest: null }
    desk.current = opened
    worker.onmessage = ({ data }: MessageEvent<FitAnswer>) => {
      const hasMore = opened.newest !== opened.asked
      opened.asked = null
      setAnswer(data)
      if (hasMore) ask(opened)
    }
    return () => {
      desk.current = null
      worker.terminate()
    }
  }, [])

  useEffect(() => {
    const opened = desk.current
    if (opened === null) return
    opened.newest = question
    if (opened.asked === null) ask(opened)
  }, [question])

  return question === null ? null : (answer?.fit ?? null)
}

function ask(desk: Desk): void {
  if (desk.newest === null) return
  desk.asked = desk.newest
  desk.worker.postMessage(desk.newest)
}
