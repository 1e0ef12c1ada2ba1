import type { Marks } from '../../analysis/board/marks.ts'
import { mayBeCarried, type MarksSearch } from '../../analysis/finding/marks-offer.ts'
import { marksOf } from '../../analysis/marking/marks-draft.ts'
import { problem, success, type Outcome } from '../contract/outcome.ts'
import type { KeptClip, Library } from '../library/library.ts'
import type { ClipFiles } from './clips-files.ts'
import type { FromProposing, MarkedClip, ToProposing } from './proposing-messages.ts'
import type { StartWorkerProcess, WorkerProcess } from './worker-process.ts'

/** Looks for marks that can be offered, beside the process that answers the window. */
export interface ProposingService {
  propose(clip: KeptClip): Promise<Outcome<MarksSearch>>
  close(): void
}

/** A process that looks at one clip. */
interface Looking {
  readonly what: string
  readonly worker: WorkerProcess
  readonly reply: Promise<FromProposing>
}

/** So many marked clips are tried, the newest first. */
const MOST_KNOWN = 5
const ENTRY = new URL(`./proposing-process.${import.meta.url.endsWith('.ts') ? 'ts' : 'js'}`, import.meta.url)

export function proposingService(
  library: Library,
  files: ClipFiles,
  startWorkerProcess: StartWorkerProcess,
): ProposingService {
  let looking: Looking | null = null

  async function knownFor(clip: KeptClip): Promise<readonly MarkedClip[]> {
    const known: MarkedClip[] = []
    for (const other of library.clips.list()) {
      if (known.length === MOST_KNOWN) break
      const marks = markedLike(clip, other)
      const boardId = other.setup.boardId ?? clip.setup.boardId
      const board = boardId === null ? null : library.boards.get(boardId)
      if (marks === null || board === null || !(await files.isThere(other))) continue
      known.push({ path: other.path, fileName: other.facts.fileName, marks, board: board.shape })
    }
    return known
  }

  /** One look at a time: the same asked again is the same look, and another one takes its place. */
  function ask(order: ToProposing): Promise<FromProposing> {
    const what = JSON.stringify(order)
    if (looking?.what === what) return looking.reply
    looking?.worker.kill()
    const worker = startWorkerProcess(ENTRY)
    const reply = new Promise<FromProposing>((resolve) => {
      worker.onMessage((message) => {
        resolve(message as FromProposing)
        worker.kill()
      })
      worker.onExit(() => {
        if (looking?.worker === worker) looking = null
        resolve({ kind: 'failed', message: 'The search for the plank failed: mark it by hand.' })
      })
    })
    looking = { what, worker, reply }
    worker.post(order)
    return reply
  }

  /** A clip that is looked at already is not looked at twice. */
  const underWay = new Map<string, ReturnType<ProposingService['propose']>>()

  return {
    propose(clip) {
      const key = JSON.stringify([clip.id, clip.setup])
      const begun =
        underWay.get(key) ??
        lookAt(clip).finally(() => {
          underWay.delete(key)
        })
      underWay.set(key, begun)
      return begun
    },
    close: () => {
      looking?.worker.kill()
    },
  }

  async function lookAt(clip: KeptClip): Promise<Outcome<MarksSearch>> {
    const { setup, facts, slowMotion } = clip
    const board = setup.boardId === null ? null : library.boards.get(setup.boardId)
    const reply = await ask({
      clip: {
        path: clip.path,
        fileName: facts.fileName,
        stretch: setup.stretch,
        travel: setup.travel,
        slowMotionFactor: setup.slowMotion ?? slowMotion.factor,
        board: board?.shape ?? null,
      },
      known: await knownFor(clip),
    })
    return reply.kind === 'proposed' ? success(reply.search) : problem('failed', reply.message)
  }
}

/** The marks of another clip that may be of the same place; null when it cannot be. */
function markedLike(clip: KeptClip, other: KeptClip): Marks | null {
  const marks = marksOf(other.marks, { fileName: other.facts.fileName, travel: null })
  if (other.id === clip.id || !marks.ok) return null
  return mayBeCarried(marks.value, [clip.facts, other.facts], clip.setup.travel) ? marks.value : null
}
