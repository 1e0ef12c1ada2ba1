import './boards.css'
import { useState } from 'react'
import { Link } from 'react-router'
import type { BoardCheckFile } from '../../analysis/board-physics/board-check-file.ts'
import { SHOWN_DOGS_KG } from '../../analysis/board-physics/feel.ts'
import type { Board } from '../../analysis/board/board.ts'
import {
  adviceSentence,
  fallSentence,
  feelSentence,
  togetherSentences,
  verdictSentence,
} from '../../analysis/board-physics/board-words.ts'
import { wearSentence } from '../../analysis/board-physics/wear-words.ts'
import { ASSUMED_BOARD, BOARD_CAUTIONS } from '../../analysis/words/board-cautions.ts'
import {
  BOARD_FORMATS,
  type BoardFormat,
  DROP_RULES,
  type DropRules,
  type SizesByRules,
} from '../../main/contract/drops.ts'
import type { KeptBoard } from '../../main/contract/dogs-and-boards.ts'
import { useSettings } from '../app/use-settings.ts'
import { DropInPicture } from '../figures/drop-in-picture.tsx'
import { BoardDogs } from '../figures/board-dogs.tsx'
import { BoardWearFigure } from '../figures/board-wear.tsx'
import { BoardToScale } from '../figures/board-to-scale.tsx'
import { FallCurveFigure } from '../figures/fall-curve.tsx'
import { handOver } from '../host/hand-over.ts'
import { useCall, useChange } from '../host/use-call.ts'
import { useFeels } from '../lists/board-feels.ts'
import { Answer } from '../look/answer.tsx'
import { Choice } from '../look/choice.tsx'
import { Notice } from '../look/notice.tsx'
import { SaveAs } from '../look/save-as.tsx'
import { DropList } from './drop-list.tsx'
import { RulesTable } from './rules-table.tsx'
import { SizesTable } from './sizes-table.tsx'

const FORMAT_NAMES: Readonly<Record<BoardFormat, string>> = {
  pdf: 'PDF, to print',
  html: 'Web page, to send',
  json: 'All numbers (JSON)',
}

/** What is known of one board: its drop tests, what rule books ask, what to do about it, how it feels to a dog. */
export function BoardScreen({ boardId }: { readonly boardId: string }) {
  const boards = useCall('boards.list', {})
  return (
    <div className="screen">
      <title>Board, Tiphold</title>
      <Answer of={boards}>
        {(all) => {
          const board = all.find(({ id }) => id === boardId)
          return board === undefined ? (
            <p className="nothing">
              This board is no longer in the library. <Link to="/boards">To the boards</Link>
            </p>
          ) : (
            <BoardPage board={board} />
          )
        }}
      </Answer>
    </div>
  )
}

function BoardPage({ board }: { readonly board: KeptBoard }) {
  const { ruleSet } = useSettings().settings
  const tested = useCall('boards.tested', { boardId: board.id }, { staleTime: Infinity })
  const isAssumed = board.isAssumed === true
  const [chosen, setChosen] = useState<DropRules>(DROP_RULES.find((key) => key === ruleSet) ?? 'uk')
  return (
    <>
      <div className="screen-head">
        <div>
          <h1>{board.name}</h1>
          <p className="soft">
            <Link to="/boards">Boards</Link>
          </p>
        </div>
        {tested.data === undefined || tested.data.drops.length === 0 ? null : (
          <SaveCheck boardId={board.id} rules={chosen} />
        )}
      </div>
      <Answer of={tested} doing="Working the drops out">
        {({ drops, checks, sizes }) => {
          const check = checks.find(({ rules }) => rules.key === chosen)
          return (
            <div className="stack">
              {isAssumed && drops.length > 0 ? <Notice tone="unsure">{ASSUMED_BOARD}</Notice> : null}
              {check === undefined ? (
                <>
                  <FeltFromRides board={board} />
                  <HowToTest />
                  <SizesFromMarks all={sizes} lengthM={board.shape.lengthM} chosen={chosen} onChoose={setChosen} />
                </>
              ) : (
                <>
                  <RulesTable checks={checks} chosen={chosen} onChoose={setChosen} />
                  <Check check={check} board={board.shape} isAssumed={isAssumed} />
                </>
              )}
              <DropList drops={drops} lengthM={board.shape.lengthM} />
              <KeepInMind />
            </div>
          )
        }}
      </Answer>
    </>
  )
}

function Check({
  check,
  board,
  isAssumed,
}: {
  readonly check: BoardCheckFile
  readonly board: Board
  readonly isAssumed: boolean
}) {
  const { advice, adviceWithheld, curve, feel, test } = check
  const dogs = feel.dogs.filter(({ massKg }) => SHOWN_DOGS_KG.includes(massKg))
  const knowsFeel = dogs.some(({ fallS, tipAtM }) => fallS.kind === 'measured' || tipAtM.kind === 'measured')
  return (
    <>
      <section className="stack" aria-labelledby="board-verdict">
        <h2 id="board-verdict">{check.rules.name}</h2>
        <p className="board-verdict">
          {fallSentence(check)} {verdictSentence(check)}
        </p>
        {togetherSentences(check).map((sentence) => (
          <p key={sentence}>{sentence}</p>
        ))}
        <div className="board-picture">
          <BoardToScale board={board} restAngleDeg={check.restAngleDeg} test={test} advice={advice[0] ?? null} />
        </div>
      </section>
      <section className="stack" aria-labelledby="board-advice">
        <h2 id="board-advice">{advice.length > 1 ? 'What to do: any one of these' : 'What to do'}</h2>
        {adviceWithheld === null && advice.length === 0 ? <p>Nothing: leave it as it is.</p> : null}
        {adviceWithheld === null ? null : <Notice tone="unsure">{adviceWithheld.detail}</Notice>}
        {advice.length === 0 ? null : (
          <ul>
            {advice.map((option) => {
              const sentence = adviceSentence(option, board.lengthM)
              return <li key={sentence}>{sentence}</li>
            })}
          </ul>
        )}
      </section>
      {curve === null ? null : (
        <section className="stack" aria-labelledby="board-fall">
          <h2 id="board-fall">The fall in the test</h2>
          <FallCurveFigure curve={curve} {...test} />
        </section>
      )}
      {knowsFeel ? (
        <section className="stack" aria-labelledby="board-feel">
          <h2 id="board-feel">Where dogs tip it</h2>
          <p className="soft">
            For a dog that walks up slowly; the time is with the dog standing in the middle of the down contact.{' '}
            {feelSentence(feel)}
          </p>
          <BoardDogs lengthM={board.lengthM} contactM={board.contactM} dogs={dogs} />
        </section>
      ) : null}
      {check.wear.length === 0 ? null : (
        <section className="stack" aria-labelledby="board-wear">
          <h2 id="board-wear">Over the months</h2>
          {check.wear.map((wear) => (
            <div key={wear.measure}>
              <p>{wearSentence(wear)}</p>
              <BoardWearFigure wear={wear} />
            </div>
          ))}
        </section>
      )}
      {isAssumed ? null : <SizesTable dimensions={check.dimensions} seen={check.sizes} lengthM={board.lengthM} />}
    </>
  )
}

/** What rides alone tell of a board that nobody tested. */
function FeltFromRides({ board }: { readonly board: KeptBoard }) {
  const feel = useFeels().get(board.id)
  const sentence = feel === undefined ? null : feelSentence(feel)
  if (feel === undefined || sentence === null) return null
  return (
    <section className="stack" aria-labelledby="board-feel">
      <h2 id="board-feel">Where dogs tip it, roughly</h2>
      <p className="soft">{sentence} A drop test tells it better, and what your rule book asks for.</p>
      <BoardDogs
        lengthM={board.shape.lengthM}
        contactM={board.shape.contactM}
        dogs={feel.dogs.filter(({ massKg }) => SHOWN_DOGS_KG.includes(massKg))}
      />
    </section>
  )
}

/** The sizes of a board that nobody tested, as entered and as the marks of its rides show them. */
function SizesFromMarks({
  all,
  lengthM,
  chosen,
  onChoose,
}: {
  readonly all: readonly SizesByRules[]
  readonly lengthM: number
  readonly chosen: DropRules
  readonly onChoose: (rules: DropRules) => void
}) {
  const told = all.find(({ rules }) => rules.key === chosen) ?? all[0]
  if (told === undefined) return null
  return (
    <>
      <SizesTable dimensions={told.dimensions} seen={told.sizes} lengthM={lengthM} />
      <Choice
        label="Sizes by"
        options={all.map(({ rules }) => ({ key: rules.key as DropRules, name: rules.name }))}
        selected={told.rules.key as DropRules}
        onSelect={onChoose}
      />
    </>
  )
}

function HowToTest() {
  return (
    <section className="card board-how" aria-labelledby="board-how">
      <h2 id="board-how">How fast does it fall?</h2>
      <p>
        Film a drop test and Tiphold tells how long the board takes, whether it keeps to the rule books, and what to do.
      </p>
      <DropInPicture />
      <ol>
        <li>Camera on a tripod, from the side, both ends in the picture.</li>
        <li>Board at rest. Place the weight in the middle of the down contact, and take your hand away at once.</li>
        <li>Let it land. Lift the weight off and let the board come back, all in one clip.</li>
        <li>Do it again in the same clip if you like: several drops are taken together.</li>
        <li>Bring the clip in, and choose “a drop test” in its set-up.</li>
      </ol>
      <p>One drop tells the time. A second one with another weight tells what to change on the board.</p>
    </section>
  )
}

function KeepInMind() {
  return (
    <section className="stack" aria-labelledby="board-cautions">
      <h2 id="board-cautions">Keep in mind</h2>
      <ul className="soft">
        {BOARD_CAUTIONS.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
    </section>
  )
}

function SaveCheck({ boardId, rules }: { readonly boardId: string; readonly rules: DropRules }) {
  const save = useChange('boards.saveCheck')
  return (
    <div>
      <SaveAs
        formats={BOARD_FORMATS.map((format) => ({ format, name: FORMAT_NAMES[format] }))}
        onSave={(format) => save.mutate({ boardId, rules, format }, { onSuccess: handOver })}
        isSaving={save.isPending}
        failure={save.error?.message ?? null}
      />
    </div>
  )
}
