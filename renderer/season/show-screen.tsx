import '../lists/lists.css'
import './season.css'
import { useState } from 'react'
import type { InputOf } from '../../main/contract/calls.ts'
import { SHOW_RULES, type ShowCheckAnswer, type ShowRules } from '../../main/contract/seasons.ts'
import { OWN_KEY } from '../../analysis/rules/own-rules.ts'
import type { Estimate } from '../../analysis/estimate.ts'
import { useRuleSets } from '../app/use-rule-sets.ts'
import { handOver } from '../host/hand-over.ts'
import { useCall, useChange } from '../host/use-call.ts'
import { IntervalBar } from '../figures/interval-bar.tsx'
import { Answer } from '../look/answer.tsx'
import { ButtonLink } from '../look/button.tsx'
import { Choice } from '../look/choice.tsx'
import { SelectField } from '../look/fields.tsx'
import { Notice } from '../look/notice.tsx'
import { SaveAs } from '../look/save-as.tsx'
import { SAVED_FORMATS } from './saved-formats.ts'

const NAMES = { uk: 'UK', fci: 'FCI', akc: 'AKC' } as const
/** How much faster or slower than usual a strange board may be. */
const SPEEDS = [
  { key: 'speed-0.6', name: 'A board that falls much faster than usual (0.6 of the time)' },
  { key: 'speed-0.8', name: 'A board that falls faster than usual (0.8 of the time)' },
  { key: 'speed-1', name: 'A strange board that falls as usual' },
  { key: 'speed-1.25', name: 'A board that falls slower than usual (1.25 times as long)' },
  { key: 'speed-1.6', name: 'A board that falls much slower than usual (1.6 times as long)' },
]

/** Would the dog wait on the show's board? A chance with its interval, never a promise. */
export function ShowScreen({ dogId }: { readonly dogId: string }) {
  const season = useCall('seasons.get', { dogId })
  return (
    <div className="screen season">
      <title>Show check, Tiphold</title>
      <Answer of={season} doing="Working the rides out">
        {({ season: { dog }, whole }) => {
          const fall = whole.levels.find(({ measure }) => measure === 'dropTimeS')?.level
          return <Question dogId={dogId} dog={dog} usualFallS={fall?.kind === 'measured' ? fall.value : null} />
        }}
      </Answer>
    </div>
  )
}

interface QuestionProps {
  readonly dogId: string
  readonly dog: string
  readonly usualFallS: number | null
}

function Question({ dogId, dog, usualFallS }: QuestionProps) {
  const boards = useCall('boards.list', {}).data ?? []
  const { all, chosen } = useRuleSets()
  const [picked, setRules] = useState<ShowRules | null>(null)
  const known = SHOW_RULES.flatMap((key) => {
    const set = all.find((one) => one.key === key)
    return set === undefined ? [] : [{ key, name: key === OWN_KEY ? set.name : NAMES[key] }]
  })
  const rules = picked ?? known.find(({ key }) => key === chosen?.key)?.key ?? 'uk'
  const [board, setBoard] = useState<string>('speed-1')
  const options = [...(usualFallS === null ? [] : SPEEDS), ...boards.map(({ id, name }) => ({ key: id, name }))]
  const selected = options.some(({ key }) => key === board) ? board : (options[0]?.key ?? null)
  const asked: ShowAsked | null =
    selected === null
      ? null
      : {
          dogId,
          rules,
          board: selected.startsWith('speed-')
            ? { dropTimeS: Number(((usualFallS ?? 0.6) * Number(selected.slice(6))).toFixed(2)) }
            : { boardId: selected },
        }
  return (
    <>
      <div className="screen-head">
        <h1>Show check for {dog}</h1>
        <div className="head-actions">
          <ButtonLink to={`/dogs/${dogId}`}>Back to {dog}</ButtonLink>
          {asked === null ? null : <SaveShow asked={asked} />}
        </div>
      </div>
      <div className="show-form">
        <Choice label="Rules" options={known} selected={rules} onSelect={setRules} />
        <SelectField
          label="Board at the show"
          options={options}
          selected={selected}
          onSelect={setBoard}
          {...(usualFallS === null
            ? {}
            : { hint: `As usual: boards land ${usualFallS.toFixed(2)} s after they begin to tip under this dog.` })}
        />
      </div>
      {asked === null ? (
        <p className="nothing">Too little to say: there is neither a ride whose fall was measured nor a board.</p>
      ) : (
        <Checked asked={asked} />
      )}
    </>
  )
}

type ShowAsked = InputOf<'seasons.checkShow'>

function Checked({ asked }: { readonly asked: ShowAsked }) {
  const show = useCall('seasons.checkShow', asked)
  return (
    <Answer of={show} doing="Working the chances out">
      {(answer) => <ShowAnswerView {...answer} />}
    </Answer>
  )
}

/** The answer as a file. */
function SaveShow({ asked }: { readonly asked: ShowAsked }) {
  const save = useChange('seasons.saveShow')
  return (
    <SaveAs
      formats={SAVED_FORMATS}
      onSave={(format) => save.mutate({ ...asked, format }, { onSuccess: handOver })}
      isSaving={save.isPending}
      failure={save.error?.message ?? null}
    />
  )
}

const TONES = { 'likely-fine': 'good', 'at-risk': 'bad', 'cannot-tell': 'unsure' } as const

function ShowAnswerView({ check, answer }: ShowCheckAnswer) {
  const [verdict = '', ...others] = answer.sentences
  const tone = TONES[check.verdict]
  return (
    <section className="show-answer" aria-label="Answer" aria-live="polite">
      <div className="notice" data-tone={tone}>
        <p className="season-lede">{unbroken(verdict)}</p>
      </div>
      <Chance name="Leaves early" chance={check.earlyChance} />
      <Chance name="Misses the down contact" chance={check.missedDownChance} />
      {others
        .filter((sentence) => !verdict.endsWith(sentence))
        .map((sentence) => (
          <p key={sentence}>{unbroken(sentence)}</p>
        ))}
      {check.verdict === 'cannot-tell' ? (
        <Notice tone="unsure">
          These rides leave both open. More rides, on boards of different speed, would tell.
        </Notice>
      ) : null}
      <ul className="season-list soft">
        {answer.cautions.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
    </section>
  )
}

/** A number stays in one line with its sign. */
function unbroken(words: string): string {
  return words.replace(/(\d) (%|s\b)/g, '$1\u00a0$2')
}

function Chance({ name, chance }: { readonly name: string; readonly chance: Estimate }) {
  if (chance.kind !== 'measured') return null
  return (
    <div>
      <h2 className="small">{name}, 0 to 100 %</h2>
      <IntervalBar value={chance.value} ci95={chance.ci95} domain={[0, 1]} />
    </div>
  )
}
