import './side-by-side.css'
import '../viewer/viewer.css'
import { keepPreviousData } from '@tanstack/react-query'
import { useState } from 'react'
import { useSearchParams } from 'react-router'
import { rideName } from '../../analysis/words/ride-name.ts'
import type { ClipDetail } from '../../main/contract/clips.ts'
import type { RideCard, RideDetail } from '../../main/contract/rides.ts'
import { useCall } from '../host/use-call.ts'
import { Answer } from '../look/answer.tsx'
import { SelectField, TextField } from '../look/fields.tsx'
import { momentInWords } from '../lists/verdict-words.ts'
import { RidesInStep } from './rides-in-step.tsx'

/** More would make a long list to choose from. */
const NEWEST_RIDES = {
  dogId: null,
  boardId: null,
  leaving: null,
  sortBy: 'newest',
  offset: 0,
  limit: 200,
} as const

/** Two rides next to each other, in step. */
export function SideBySideScreen() {
  const [search, setSearch] = useSearchParams()
  const [a, b] = [search.get('a'), search.get('b')]
  const [words, setWords] = useState('')
  const rides = useCall('rides.list', { ...NEWEST_RIDES, words }, { placeholderData: keepPreviousData })
  const chosen = [useCardOf(a), useCardOf(b)].filter((card) => card !== null)
  const choose = (which: 'a' | 'b', id: string): void => {
    const next = new URLSearchParams(search)
    next.set(which, id)
    setSearch(next, { replace: true })
  }
  return (
    <div className="side-by-side">
      <title>Side by side, Tiphold</title>
      <Answer of={rides}>
        {({ rides: found, total }) => {
          const cards = new Map([...chosen, ...found].map((card) => [card.id, card]))
          const options = [...cards.values()].map((card) => ({ key: card.id, name: optionName(card) }))
          return (
            <div className="pair-choice">
              <h1>Side by side</h1>
              {total > found.length || words !== '' ? (
                <TextField
                  label="Search"
                  hint={total > found.length ? `The newest ${found.length} of ${total} rides are offered.` : undefined}
                  value={words}
                  onChange={setWords}
                  maxLength={200}
                />
              ) : null}
              <div className="pair-rides">
                <SelectField label="First ride" options={options} selected={a} onSelect={(id) => choose('a', id)} />
                <SelectField label="Second ride" options={options} selected={b} onSelect={(id) => choose('b', id)} />
              </div>
            </div>
          )
        }}
      </Answer>
      {a === null || b === null ? <p className="soft">Choose two rides.</p> : <Both key={`${a} ${b}`} a={a} b={b} />}
    </div>
  )
}

/** The card of a ride that was chosen, whether it is among those that are offered or not. */
function useCardOf(rideId: string | null): RideCard | null {
  return useCall('rides.get', { rideId: rideId ?? '' }, { enabled: rideId !== null }).data?.card ?? null
}

function optionName(card: RideCard): string {
  return `${rideName(card)}, ${momentInWords(card.takenInAt)}`
}

function Both({ a, b }: { readonly a: string; readonly b: string }) {
  return (
    <WithClip rideId={a}>
      {(first) => <WithClip rideId={b}>{(second) => <RidesInStep {...{ first, second }} />}</WithClip>}
    </WithClip>
  )
}

interface WithClipProps {
  readonly rideId: string
  readonly children: (whole: { readonly detail: RideDetail; readonly clip: ClipDetail }) => React.ReactNode
}

function WithClip({ rideId, children }: WithClipProps) {
  const ride = useCall('rides.get', { rideId })
  return <Answer of={ride}>{(detail) => <ClipOf detail={detail}>{children}</ClipOf>}</Answer>
}

function ClipOf({ detail, children }: { readonly detail: RideDetail; readonly children: WithClipProps['children'] }) {
  const clip = useCall('clips.get', { clipId: detail.card.clipId })
  return <Answer of={clip}>{(found) => children({ detail, clip: found })}</Answer>
}
