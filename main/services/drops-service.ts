import type { Handlers } from '../contract/calls.ts'
import { ruleSetAmong } from '../../analysis/rules/own-rules.ts'
import { type BoardDrop, type BoardFormat, DROP_RULES, type DropRules } from '../contract/drops.ts'
import { problem, success } from '../contract/outcome.ts'
import type { Library } from '../library/library.ts'
import { clipsWithDrops, datedDrops, dayOfClip, type DroppedClip, dropsIn } from './board-drops.ts'
import type { BoardFeels } from './board-feels.ts'
import { markedPictures } from './marked-pictures.ts'
import type { ReportingService } from './reporting-service.ts'
import { weighedCards, weighedRides } from './weighed-rides.ts'

export type DropsHandlers = Pick<Handlers, 'boards.tested' | 'boards.feels' | 'boards.saveCheck'>

const MEDIA: Readonly<Record<BoardFormat, string>> = {
  html: 'text/html',
  pdf: 'application/pdf',
  json: 'application/json',
}

/** What the drop tests of a board say of it. */
export function dropsService(library: Library, reporting: ReportingService, feels: BoardFeels): DropsHandlers {
  const clipsOf = (boardId: string) => clipsWithDrops(library, boardId)
  const ridesOn = (boardId: string) => weighedRides(library, weighedCards(library).get(boardId) ?? [])
  const rulesOf = (key: DropRules) => ruleSetAmong(key, library.settings.get().ownRules)

  return {
    'boards.tested': async ({ boardId }) => {
      const board = library.boards.get(boardId)
      if (board === null) return GONE
      const clips = clipsOf(boardId)
      const rules = DROP_RULES.flatMap((key) => rulesOf(key) ?? [])
      const marked = markedPictures(library, boardId)
      if (clips.length === 0) {
        if (marked.length === 0 || board.isAssumed === true) return success({ drops: [], checks: [], sizes: [] })
        const told = await reporting.ask({ kind: 'sizes', board: board.shape, marked, rules })
        return told.ok ? success({ drops: [], checks: [], sizes: told.value.sizes }) : told
      }
      const drops = clips.flatMap(datedDrops)
      const rides = await ridesOn(boardId)
      const answer = await reporting.ask({ kind: 'board', board: board.shape, marked, drops, rides, rules })
      return answer.ok ? success({ drops: clips.flatMap(boardDrops), checks: answer.value.checks, sizes: [] }) : answer
    },

    'boards.feels': () => Promise.resolve(success([...feels.known()].map(([boardId, feel]) => ({ boardId, feel })))),

    'boards.saveCheck': async ({ boardId, rules: key, format }) => {
      const board = library.boards.get(boardId)
      if (board === null) return GONE
      const drops = clipsOf(boardId).flatMap(datedDrops)
      if (drops.length === 0) return problem('not-ready', 'Film a drop test of this board first.')
      const rules = rulesOf(key)
      if (rules === null) return problem('not-found', 'Your own rules are no longer in the settings: choose others.')
      const answer = await reporting.ask({
        kind: 'board-file',
        name: board.name,
        isAssumed: board.isAssumed === true,
        board: board.shape,
        marked: markedPictures(library, boardId),
        drops,
        rides: await ridesOn(boardId),
        rules,
        format,
      })
      if (!answer.ok) return answer
      return success({
        fileName: `board-check-${key}.${format}`,
        mediaType: MEDIA[format],
        base64: answer.value.base64,
      })
    },
  }
}

const GONE = problem('not-found', 'This board is no longer in the library: choose another one.')

function boardDrops(clip: DroppedClip): readonly BoardDrop[] {
  const { id: clipId, facts } = clip
  const drops = dropsIn(clip)
  return drops.map(({ massKg, massAtM, moved, measures, notes }, k) => ({
    clipId,
    fileName: facts.fileName,
    place: drops.length === 1 ? null : { number: k + 1, of: drops.length },
    day: dayOfClip(clip),
    massKg,
    massAtM,
    moved,
    measures,
    notes,
  }))
}
