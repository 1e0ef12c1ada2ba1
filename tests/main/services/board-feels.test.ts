import { expect, test } from 'vitest'
import type { BoardFeel } from '../../../analysis/board-physics/feel.ts'
import { measured } from '../../../analysis/estimate.ts'
import { success } from '../../../main/contract/outcome.ts'
import type { Library } from '../../../main/library/library.ts'
import { boardFeels } from '../../../main/services/board-feels.ts'
import type { ReportingService } from '../../../main/services/reporting-service.ts'

const shape = { lengthM: 3.66, widthM: 0.3, pivotHeightM: 0.61, contactM: 0.914 }
const feel: BoardFeel = { feelS: measured(0.59, 0.01), dogs: [], restsOn: { drops: 1, rides: 0 } }

/** Two boards, one of them with a drop test. */
function library() {
  const boards = [
    { id: 'tested', name: 'Club', note: '', shape },
    { id: 'untested', name: 'Home', note: '', shape },
  ]
  const clips = [{ takenInAt: '2026-05-14T10:00:00Z', filmedOn: null, drop: { boardId: 'tested', drop: {} } }]
  const shelves = {
    boards: { list: () => boards },
    clips: { list: () => clips },
    dogs: { list: () => [] },
    rides: { cards: () => [] },
  }
  return { boards, clips, shelves: shelves as unknown as Library }
}

function feelsOf({ shelves }: ReturnType<typeof library>) {
  const asked: string[] = []
  let more: () => void = () => undefined
  const reporting = {
    ask: (order: { kind: string }) => {
      asked.push(order.kind)
      return Promise.resolve(success({ kind: 'feel', feel }))
    },
    close: () => undefined,
  } as unknown as ReportingService
  const feels = boardFeels(shelves, reporting, () => more())
  const nextMore = () => new Promise<void>((resolve) => (more = resolve))
  return { asked, feels, nextMore }
}

test('only boards with drop tests, or rides of weighed dogs, are worked out, each once', async () => {
  const { asked, feels, nextMore } = feelsOf(library())
  const told = nextMore()
  expect(feels.known().size).toBe(0)
  await told
  expect([...feels.known()]).toEqual([['tested', feel]])
  feels.known()
  expect(asked).toEqual(['feel'])
})

test('a board that was given other lengths, or another drop, is worked out anew', async () => {
  const kept = library()
  const { asked, feels, nextMore } = feelsOf(kept)
  let told = nextMore()
  feels.known()
  await told
  kept.boards[0] = { ...kept.boards[0]!, shape: { ...shape, lengthM: 3.6 } }
  told = nextMore()
  expect(feels.known().size).toBe(0)
  await told
  kept.clips.push({ ...kept.clips[0]!, drop: { boardId: 'tested', drop: {} } })
  told = nextMore()
  expect(feels.known().size).toBe(0)
  await told
  expect(feels.known().size).toBe(1)
  expect(asked).toHaveLength(3)
})
