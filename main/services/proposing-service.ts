import type { MarksProposal } from '../contract/clips.ts'
import { problem, success, type Outcome } from '../contract/outcome.ts'
import type { KeptClip, Library } from '../library/library.ts'
import type { ClipFiles } from './clips-files.ts'
import { marksOf, travelOf } from './clips-marks.ts'
import type { FromProposing, MarkedClip, ToProposing } from './proposing-messages.ts'
import type { StartWorkerProcess, WorkerProcess } from './worker-process.ts'

/** Looks for marks that can be offered, beside the process that answers the window. */
export interface ProposingService {
  /** The likeliest first; nothing is offered that does not look right. */
  propose(clip: KeptClip): Promise<Outcome<readonly MarksProposal[]>>
  close(): void
}

/** So many marked clips are tried, the newest first. */
const MOST_KNOWN = 5
const ENTRY = new URL(`./proposing-process.${import.meta.url.endsWith('.ts') ? 'ts' : 'js'}`, import.meta.url)

export function proposingService(
  library: Library,
  files: ClipFiles,
  startWorkerProcess: StartWorkerProcess,
): ProposingService {
  const workers = new Set<WorkerProcess>()

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

  function ask(order: ToProposing): Promise<FromProposing> {
    return new Promise((resolve) => {
      const worker = startWorkerProcess(ENTRY)
      workers.add(worker)
      worker.onMessage((message) => {
        resolve(message as FromProposing)
        worker.kill()
      })
      worker.onExit(() => {
        workers.delete(worker)
        resolve({ kind: 'failed', message: 'Looking for the plank broke off: mark it by hand.' })
      })
      worker.post(order)
    })
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
      for (const worker of workers) worker.kill()
    },
  }

  async function lookAt(clip: KeptClip): Promise<Outcome<readonly MarksProposal[]>> {
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
    return reply.kind === 'proposed' ? success(reply.proposals) : problem('failed', reply.message)
  }
}

/** The marks of another clip that may be of the same place; null when it cannot be. */
function markedLike(clip: KeptClip, other: KeptClip) {
  const isSameSize = other.facts.widthPx === clip.facts.widthPx && other.facts.heightPx === clip.facts.heightPx
  if (other.id === clip.id || !isSameSize) return null
  const marks = marksOf(other.marks, { fileName: other.facts.fileName, travel: null })
  if (!marks.ok) return null
  const runsOtherWay = clip.setup.travel !== null && clip.setup.travel !== travelOf(marks.value.rest)
  return runsOtherWay ? null : marks.value
}
