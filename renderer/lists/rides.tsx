import './lists.css'
import { ChevronLeft, ChevronRight, X } from 'lucide-react'
import { useDeferredValue, useMemo, useState } from 'react'
import { Input, Label, SearchField } from 'react-aria-components'
import { useSearchParams } from 'react-router'
import { keepPreviousData } from '@tanstack/react-query'
import type { AllRidesQuery } from '../../main/contract/rides.ts'
import { useCall } from '../host/use-call.ts'
import { Answer } from '../look/answer.tsx'
import { Button, ButtonLink, IconButton } from '../look/button.tsx'
import { SelectField } from '../look/fields.tsx'
import { RideCardLink, RideCardTick } from './ride-card.tsx'
import { SessionDialog } from './session-dialog.tsx'
import { EVERYTHING, PAGE, queryOfSearch, searchOfQuery } from './rides-search.ts'

const ALL = 'all'

const LEAVINGS = [
  { key: ALL, name: 'Any exit' },
  { key: 'after-ground', name: 'After the landing' },
  { key: 'before-ground', name: 'Before the landing' },
  { key: 'before-tip', name: 'Before the tip' },
  { key: 'too-close', name: 'Too close to call' },
  { key: 'not-seen', name: 'Not seen' },
] as const

const FILMS = [
  { key: 'any', name: 'Filmed or not' },
  { key: 'filmed', name: 'Filmed' },
  { key: 'not-filmed', name: 'Not filmed' },
] as const

const ORDERS = [
  { key: 'newest', name: 'Newest first' },
  { key: 'oldest', name: 'Oldest first' },
  { key: 'dog', name: 'By dog' },
  { key: 'longest-hold', name: 'Longest hold first' },
  { key: 'shortest-hold', name: 'Shortest hold first' },
] as const

/** All rides, to find one again. */
export function Rides() {
  const [search, setSearch] = useSearchParams()
  const query = useMemo(() => queryOfSearch(search), [search])
  const setQuery = (next: AllRidesQuery): void => setSearch(searchOfQuery(next), { replace: true })
  const asked = useDeferredValue(query)
  const rides = useCall('rides.listAll', asked, { placeholderData: keepPreviousData })
  const dogs = useCall('dogs.list', {}).data ?? []
  const boards = useCall('boards.list', {}).data ?? []
  // A narrower list begins at its first page.
  const narrow = (changed: Partial<AllRidesQuery>): void => setQuery({ ...query, offset: 0, ...changed })
  const isNarrowed = searchOfQuery({ ...query, sortBy: EVERYTHING.sortBy, offset: 0 }).size > 0
  /** The rides that something is to be said of; null while none are being chosen. */
  const [chosen, setChosen] = useState<ReadonlySet<string> | null>(null)
  const [isSetting, setIsSetting] = useState(false)
  const idOf = (key: string): string | null => (key === ALL ? null : key)

  return (
    <div className="screen">
      <title>Rides, Tiphold</title>
      <div className="screen-head">
        <h1>Rides</h1>
        {chosen === null ? (
          <Button onPress={() => setChosen(new Set())}>Select rides</Button>
        ) : (
          <div className="selecting">
            <span role="status">{chosen.size === 1 ? '1 selected' : `${chosen.size} selected`}</span>
            <Button
              isDisabled={rides.data === undefined}
              onPress={() => setChosen(new Set([...chosen, ...(rides.data?.rides ?? []).map(({ id }) => id)]))}
            >
              Select this page
            </Button>
            <Button look="primary" isDisabled={chosen.size === 0} onPress={() => setIsSetting(true)}>
              Set day, place, tags
            </Button>
            <Button onPress={() => setChosen(null)}>Done</Button>
          </div>
        )}
      </div>
      {isSetting && chosen !== null ? (
        <SessionDialog rideIds={[...chosen]} onClose={() => setIsSetting(false)} onDone={() => setChosen(null)} />
      ) : null}
      <div className="filters" role="search">
        <SearchField className="field" value={query.words} onChange={(words) => narrow({ words })}>
          <Label>Search</Label>
          <Input placeholder="A name, a word, a file" />
        </SearchField>
        <SelectField
          label="Dog"
          options={[{ key: ALL, name: 'Any dog' }, ...dogs.map(({ id, name }) => ({ key: id, name }))]}
          selected={query.dogId ?? ALL}
          onSelect={(key) => narrow({ dogId: idOf(key) })}
        />
        <SelectField
          label="Board"
          options={[{ key: ALL, name: 'Any board' }, ...boards.map(({ id, name }) => ({ key: id, name }))]}
          selected={query.boardId ?? ALL}
          onSelect={(key) => narrow({ boardId: idOf(key) })}
        />
        <SelectField
          label="Left the board"
          options={LEAVINGS}
          selected={query.leaving ?? ALL}
          onSelect={(key) => narrow({ leaving: key === ALL ? null : key })}
        />
        <SelectField label="Film" options={FILMS} selected={query.film} onSelect={(film) => narrow({ film })} />
        <SelectField label="Order" options={ORDERS} selected={query.sortBy} onSelect={(sortBy) => narrow({ sortBy })} />
      </div>
      <Answer of={rides}>
        {({ total, rides: shown }) =>
          total === 0 ? (
            isNarrowed ? (
              <div className="nothing">
                <p>No rides match. Remove a word or a filter.</p>
                <Button onPress={() => setQuery(EVERYTHING)}>
                  <X aria-hidden="true" />
                  Show all rides
                </Button>
              </div>
            ) : (
              <div className="nothing">
                <p>No rides yet. Add a clip, or open a sample ride to see what one looks like.</p>
                <ButtonLink to="/">Go to Start</ButtonLink>
              </div>
            )
          ) : (
            <>
              <div className="ride-cards">
                {shown.map((ride) =>
                  chosen === null ? (
                    <RideCardLink key={ride.id} ride={ride} />
                  ) : (
                    <RideCardTick
                      key={ride.id}
                      ride={ride}
                      isSelected={chosen.has(ride.id)}
                      onChange={(isSelected) => setChosen(chosenWith(chosen, ride.id, isSelected))}
                    />
                  ),
                )}
              </div>
              <Pages offset={query.offset} total={total} onTurn={(offset) => setQuery({ ...query, offset })} />
            </>
          )
        }
      </Answer>
    </div>
  )
}

function chosenWith(chosen: ReadonlySet<string>, id: string, isSelected: boolean): ReadonlySet<string> {
  const others = [...chosen].filter((one) => one !== id)
  return new Set(isSelected ? [...others, id] : others)
}

interface PagesProps {
  readonly offset: number
  readonly total: number
  readonly onTurn: (offset: number) => void
}

function Pages({ offset, total, onTurn }: PagesProps) {
  const last = Math.min(offset + PAGE, total)
  return (
    <nav className="pages" aria-label="Pages">
      <span role="status">{total === 1 ? '1 ride' : `${offset + 1} to ${last} of ${total} rides`}</span>
      {total <= PAGE ? null : (
        <>
          <IconButton
            label="Previous page"
            isDisabled={offset === 0}
            onPress={() => onTurn(Math.max(0, offset - PAGE))}
          >
            <ChevronLeft aria-hidden="true" />
          </IconButton>
          <IconButton label="Next page" isDisabled={last >= total} onPress={() => onTurn(offset + PAGE)}>
            <ChevronRight aria-hidden="true" />
          </IconButton>
        </>
      )}
    </nav>
  )
}
