import type { Drop } from '../../analysis/drop/drop-test.ts'
import type { Handlers } from '../contract/calls.ts'
import { ruleSetAmong } from '../../analysis/rules/own-rules.ts'
import { type BoardDrop, type BoardFormat, DROP_RULES, type DropRules } from '../contract/drops.ts'
import { problem, success } from '../contract/outcome.ts'
import type { KeptClip, KeptDrop, Library } from '../library/library.ts'
import type { ReportingService } from './reporting-service.ts'

export type DropsHandlers = Pick<Handlers, 'boards.tested' | 'boards.saveCheck'>

type DroppedClip = KeptClip & { readonly drop: KeptDrop }

const MEDIA: Readonly<Record<BoardFormat, string>> = {
  html: 'text/html',
  pdf: 'application/pdf',
  json: 'application/json',
}

/** What the drop tests of a board say of it. */
export function dropsService(library: Library, reporting: ReportingService): DropsHandlers {
  /** The latest first. */
  function clipsOf(boardId: string): readonly DroppedClip[] {
    return library.clips
      .list()
      .filter((clip): clip is DroppedClip => clip.drop?.boardId === boardId)
      .sort((a, b) => dayOf(b).localeCompare(dayOf(a)))
  }

  const rulesOf = (key: DropRules) => ruleSetAmong(key, library.settings.get().ownRules)

  return {
    'boards.tested': async ({ boardId }) => {
      const board = library.boards.get(boardId)
      if (board === null) return GONE
      const clips = clipsOf(boardId)
      if (clips.length === 0) return success({ drops: [], checks: [] })
      const drops = clips.flatMap(datedDrops)
      const rules = DROP_RULES.flatMap((key) => rulesOf(key) ?? [])
      const answer = await reporting.ask({ kind: 'board', board: board.shape, drops, rules })
      return answer.ok ? success({ drops: clips.flatMap(boardDrops), checks: answer.value.checks }) : answer
    },

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
        board: board.shape,
        drops,
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

function dayOf({ filmedOn, takenInAt }: KeptClip): string {
  return filmedOn ?? takenInAt.slice(0, 10)
}

function dropsIn({ drop: { drop, furtherDrops = [] } }: DroppedClip): readonly Drop[] {
  return [drop, ...furtherDrops]
}

function datedDrops(clip: DroppedClip): readonly (Drop & { readonly day: string })[] {
  return dropsIn(clip).map((drop) => ({ ...drop, day: dayOf(clip) }))
}

function boardDrops(clip: DroppedClip): readonly BoardDrop[] {
  const { id: clipId, facts } = clip
  const drops = dropsIn(clip)
  return drops.map(({ massKg, massAtM, moved, measures, notes }, k) => ({
    clipId,
    fileName: facts.fileName,
    place: drops.length === 1 ? null : { number: k + 1, of: drops.length },
    day: dayOf(clip),
    massKg,
    massAtM,
    moved,
    measures,
    notes,
  }))
}
