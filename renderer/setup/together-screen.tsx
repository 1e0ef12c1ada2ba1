import './setup.css'
import { ArrowRight } from 'lucide-react'
import { useState } from 'react'
import { Link, useNavigate, useSearchParams } from 'react-router'
import type { ClipCard, ClipDetail, ClipSetup } from '../../main/contract/clips.ts'
import { useClient } from '../host/host-provider.tsx'
import { useSettle } from '../app/savers.tsx'
import { valueOrThrow } from '../host/problem-error.ts'
import { useCall } from '../host/use-call.ts'
import { Answer } from '../look/answer.tsx'
import { Button } from '../look/button.tsx'
import { Notice } from '../look/notice.tsx'
import { BoardChoice } from './board-choice.tsx'
import { markingInRow, rowIds } from '../clip/clip-row.ts'
import { DogChoice } from './dog-choice.tsx'
import { TravelChoice } from './travel-choice.tsx'

/** Clips that came together: dog, board and direction are said once for all of them. */
export function TogetherScreen() {
  const [search] = useSearchParams()
  const ids = rowIds(search)
  const clips = useCall('clips.list', {})
  const known = ids.filter((id) => clips.data?.some((clip) => clip.id === id))
  const first = useCall('clips.get', { clipId: known[0] ?? '' }, { enabled: known.length > 0 })
  return (
    <div className="screen">
      <title>Set-up, Tiphold</title>
      <Answer of={clips}>
        {(all) => {
          if (known.length === 0)
            return (
              <p className="nothing">
                These clips are no longer in the library. <Link to="/">To the start</Link>
              </p>
            )
          const row = known.flatMap((id) => all.filter((clip) => clip.id === id))
          return <Answer of={first}>{(detail) => <Together row={row} first={detail} />}</Answer>
        }}
      </Answer>
    </div>
  )
}

function Together({ row, first }: { readonly row: readonly ClipCard[]; readonly first: ClipDetail }) {
  const { pictureAddress } = useClient()
  const client = useClient()
  const settle = useSettle()
  const navigate = useNavigate()
  const [said, setSaid] = useState<Pick<ClipSetup, 'travel' | 'dogId' | 'boardId'>>(() => {
    const { travel, dogId, boardId } = first.setup
    return { travel, dogId, boardId }
  })
  const [failure, setFailure] = useState<string | null>(null)
  const [isKeeping, setIsKeeping] = useState(false)
  const isReady = said.boardId !== null && said.travel !== null

  async function keepAll(): Promise<void> {
    const ids = row.map(({ id }) => id)
    await settle(ids.map((id) => `setup of ${id}`))
    for (const clipId of ids) {
      const { setup } = valueOrThrow(await client.call('clips.get', { clipId }))
      valueOrThrow(await client.call('clips.setUp', { clipId, setup: { ...setup, ...said } }))
    }
    void navigate(markingInRow(ids[0]!, ids))
  }

  return (
    <>
      <div className="screen-head">
        <div>
          <h1>Set up {row.length} clips together</h1>
          <p className="soft">You can still change each clip on its own.</p>
        </div>
      </div>
      <div className="setup">
        <ul className="together-clips">
          {row.map((clip) => (
            <li key={clip.id}>
              <img src={pictureAddress(clip.id, 0, 'small')} alt="" />
              <span className="small">{clip.title === '' ? clip.fileName : clip.title}</span>
            </li>
          ))}
        </ul>
        <div className="setup-words">
          <TravelChoice
            isDropTest={false}
            travel={said.travel}
            onChange={(travel) => setSaid((now) => ({ ...now, travel }))}
          />
          <DogChoice dogId={said.dogId} onChange={(dogId) => setSaid((now) => ({ ...now, dogId }))} />
          <BoardChoice boardId={said.boardId} onChange={(boardId) => setSaid((now) => ({ ...now, boardId }))} />
          {failure === null ? null : <Notice tone="bad">{failure}</Notice>}
          <div className="setup-foot">
            <p className="soft small" id="together-missing">
              {isReady
                ? 'Next: mark the plank in each clip. Measuring runs in the background.'
                : 'Choose the direction and the board.'}
            </p>
            <Button
              look="primary"
              isDisabled={!isReady || isKeeping}
              aria-describedby="together-missing"
              onPress={() => {
                setIsKeeping(true)
                setFailure(null)
                keepAll().catch((error: unknown) => {
                  setIsKeeping(false)
                  setFailure(error instanceof Error ? error.message : String(error))
                })
              }}
            >
              {row.length === 2 ? 'Use for both' : `Use for all ${row.length}`}
              <ArrowRight aria-hidden="true" />
            </Button>
          </div>
        </div>
      </div>
    </>
  )
}
