import { expect, test } from 'vitest'
import type { Fit } from '../../../renderer/marking/fit.ts'
import { BROKEN_FIT, type FitWorker, openFitDesk } from '../../../renderer/marking/fit-desk.ts'
import type { FitQuestion } from '../../../renderer/marking/fit-worker.ts'

const board = { lengthM: 3.66, widthM: 0.3, pivotHeightM: 0.61, contactM: 0.914 }

function question(pivotXPx: number): FitQuestion {
  const ends = { entryEnd: { xPx: 100, yPx: 300 }, exitEnd: { xPx: 800, yPx: 260 } }
  const borders = { upContactEdge: { xPx: 270, yPx: 290 }, downContactEdge: { xPx: 620, yPx: 270 } }
  const rest = { frame: 0, ...ends, ...borders, pivot: { xPx: pivotXPx, yPx: 280 } }
  return { board, marks: { clip: 'wren.mp4', rest }, picture: { widthPx: 960, heightPx: 540 } }
}

/** Workers that answer when told to. */
function desk() {
  const fits: Fit[] = []
  const workers: (FitWorker & { readonly asked: FitQuestion[] })[] = []
  const opened = openFitDesk(
    () => {
      const asked: FitQuestion[] = []
      const worker = {
        asked,
        onmessage: null,
        onerror: null,
        onmessageerror: null,
        postMessage: (one: FitQuestion) => void asked.push(one),
        terminate: () => undefined,
      } as (typeof workers)[number]
      workers.push(worker)
      return worker
    },
    (fit) => fits.push(fit),
  )
  const answer = (reason: string): void => {
    const data = { fit: { kind: 'impossible', reason, point: null } }
    workers.at(-1)!.onmessage!.call(null as never, { data } as MessageEvent)
  }
  const breakDown = (): void => {
    workers.at(-1)!.onerror!.call(null as never, new Event('error') as ErrorEvent)
  }
  return { ...opened, fits, workers, answer, breakDown }
}

test('while a fit is made only the newest question waits', () => {
  const { ask, answer, fits, workers } = desk()
  const [first, second, third] = [question(450), question(451), question(452)]
  ask(first)
  ask(second)
  ask(third)
  answer('first')
  answer('third')
  expect(workers[0]!.asked).toEqual([first, third])
  expect(fits.map((fit) => fit.kind === 'impossible' && fit.reason)).toEqual(['first', 'third'])
})

test('a worker that breaks is an answer, and the next question is answered again', () => {
  const { ask, answer, breakDown, fits, workers } = desk()
  ask(question(450))
  breakDown()
  expect(fits).toEqual([BROKEN_FIT])
  ask(question(451))
  answer('second')
  expect(workers.length).toBe(2)
  expect(fits.at(-1)).toEqual({ kind: 'impossible', reason: 'second', point: null })
})

test('a question that came while the worker broke is asked of a new one', () => {
  const { ask, breakDown, workers } = desk()
  const later = question(451)
  ask(question(450))
  ask(later)
  breakDown()
  expect(workers[1]!.asked).toEqual([later])
})
