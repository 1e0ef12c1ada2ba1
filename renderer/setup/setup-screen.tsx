import './setup.css'
import { ArrowRight } from 'lucide-react'
import { useEffect, useEffectEvent, useState } from 'react'
import { useNavigate } from 'react-router'
import type { ClipDetail, ClipSetup, TestWeight } from '../../main/contract/clips.ts'
import { useCall } from '../host/use-call.ts'
import { Answer } from '../look/answer.tsx'
import { Button } from '../look/button.tsx'
import { TextField } from '../look/fields.tsx'
import { Notice } from '../look/notice.tsx'
import { MeasureClip } from '../measuring/measure-clip.tsx'
import { travelInWords } from '../clip/travel-check.tsx'
import { useProposals } from '../clip/use-proposals.ts'
import { BoardChoice } from './board-choice.tsx'
import { DogChoice } from './dog-choice.tsx'
import { factsInWords } from './facts-in-words.ts'
import { FindAgain } from './find-again.tsx'
import { SameAsBefore } from './same-as-before.tsx'
import { SlowMotionChoice } from './slow-motion-choice.tsx'
import { StretchChoice } from './stretch-choice.tsx'
import { TestWeightFields } from './test-weight.tsx'
import { TravelChoice } from './travel-choice.tsx'
import { WhatIsFilmed } from './what-is-filmed.tsx'
import { useKeptPart } from '../clip/use-kept-part.ts'

/** What is said of a clip before it is measured. */
export function SetupScreen({ clipId }: { readonly clipId: string }) {
  const clip = useCall('clips.get', { clipId })
  return (
    <div className="screen">
      <title>Set-up, Tiphold</title>
      <Answer of={clip}>{(detail) => <Setup clip={detail} />}</Answer>
    </div>
  )
}

function Setup({ clip }: { readonly clip: ClipDetail }) {
  const { card, facts } = clip
  const navigate = useNavigate()
  // What is typed is shown at once; what is kept follows.
  const saving = useKeptPart(clip, 'setup')
  const [setup, setSetup] = useState(saving.value)
  function change(changed: Partial<ClipSetup>): void {
    const next = { ...setup, ...changed }
    setSetup(next)
    saving.put(next)
  }
  function filmed(weight: TestWeight | undefined): void {
    const next: ClipSetup = { ...setup }
    if (weight === undefined) delete next.weight
    else next.weight = weight
    setSetup(next)
    saving.put(next)
  }
  const boards = useCall('boards.list', {}).data ?? []
  // The board itself shows which way the dog crosses: it is looked at while nothing is said.
  const [asked] = useState(clip.setup)
  const seen = useProposals(card.id, asked, asked.travel === null && !card.isMissing)
  const seenTravel = seen.data?.travel ?? null
  const suggest = useEffectEvent((travel: 'to-right' | 'to-left'): void => {
    if (setup.travel === null) change({ travel })
  })
  useEffect(() => {
    if (seenTravel !== null) suggest(seenTravel)
  }, [seenTravel])
  const missing = whatIsMissing(setup)
  const isMarked = card.stage === 'to-measure' || card.stage === 'measuring' || card.stage === 'measured'

  async function goOn(): Promise<void> {
    if ((await saving.settle()).kind === 'failed') return
    void navigate(`/clips/${card.id}/marking`)
  }

  return (
    <>
      <div className="screen-head">
        <div>
          <h1>Set-up</h1>
          <p className="soft">
            {facts.fileName}, {factsInWords(facts)}
          </p>
        </div>
      </div>
      {card.isMissing ? (
        <Notice tone="bad" actions={<FindAgain clipId={card.id} fileName={card.fileName} />}>
          {facts.fileName} has moved. Show where it is now; everything you entered is saved.
        </Notice>
      ) : null}
      <div className="setup">
        <div className="setup-pictures">
          {card.isMissing ? null : (
            <StretchChoice clip={clip} stretch={setup.stretch} onChange={(stretch) => change({ stretch })} />
          )}
          {facts.notes.map((note) => (
            <Notice key={note} tone="unsure">
              {note}
            </Notice>
          ))}
        </div>
        <div className="setup-words">
          {setup.travel === null && setup.boardId === null && setup.dogId === null ? (
            <SameAsBefore clipId={card.id} onUse={change} />
          ) : null}
          <SlowMotionChoice
            found={clip.slowMotion}
            factor={setup.slowMotion}
            onChange={(slowMotion) => change({ slowMotion })}
          />
          <WhatIsFilmed weight={setup.weight} onChange={filmed} />
          <TravelChoice
            isDropTest={setup.weight !== undefined}
            travel={setup.travel}
            onChange={(travel) => change({ travel })}
            {...(seenTravel === null ? {} : { hint: `The board tips ${travelInWords(seenTravel)} in this clip.` })}
          />
          {setup.weight === undefined ? (
            <DogChoice dogId={setup.dogId} onChange={(dogId) => change({ dogId })} />
          ) : null}
          <BoardChoice boardId={setup.boardId} onChange={(boardId) => change({ boardId })} />
          {setup.weight === undefined ? null : (
            <TestWeightFields
              weight={setup.weight}
              board={boards.find(({ id }) => id === setup.boardId) ?? null}
              onChange={filmed}
            />
          )}
          <TextField
            label="Title"
            placeholder="Second run, windy"
            maxLength={120}
            value={setup.title}
            onChange={(title) => change({ title })}
          />
          {saving.state.kind === 'failed' ? <Notice tone="bad">{saving.state.message}</Notice> : null}
          <div className="setup-foot">
            <p className="soft small" id="setup-missing">
              {missing ?? (isMarked ? 'The plank is marked.' : 'Next: mark the plank.')}
            </p>
            <Button
              look={isMarked ? 'plain' : 'primary'}
              isDisabled={missing !== null || card.isMissing}
              aria-describedby="setup-missing"
              onPress={() => void goOn()}
            >
              {isMarked ? 'Go to the marks' : 'Mark the plank'}
              <ArrowRight aria-hidden="true" />
            </Button>
          </div>
          {isMarked ? <MeasureClip clip={clip} isReady={missing === null && !card.isMissing} /> : null}
        </div>
      </div>
    </>
  )
}

function whatIsMissing({ travel, boardId, weight }: ClipSetup): string | null {
  if (weight !== undefined && travel === null) return 'Say on which end the weight lies.'
  if (travel === null && boardId === null) return 'Choose the direction and the board.'
  if (travel === null) return 'Choose the direction.'
  if (boardId === null) return 'Choose the board.'
  return null
}
