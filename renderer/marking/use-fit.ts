import { useEffect, useRef, useState } from 'react'
import type { Fit } from './fit.ts'
import { type FitDesk, openFitDesk } from './fit-desk.ts'
import type { FitQuestion } from './fit-worker.ts'

/** The fit to the newest marks, made beside the window; the last one stays until the next is there. Null without a question. */
export function useFit(question: FitQuestion | null): Fit | null {
  const [fit, setFit] = useState<Fit | null>(null)
  const desk = useRef<FitDesk | null>(null)

  useEffect(() => {
    const opened = openFitDesk(
      () => new Worker(new URL('./fit-worker.ts', import.meta.url), { type: 'module' }),
      setFit,
    )
    desk.current = opened
    return () => {
      desk.current = null
      opened.close()
    }
  }, [])

  useEffect(() => desk.current?.ask(question), [question])

  return question === null ? null : fit
}
