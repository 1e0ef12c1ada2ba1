import '../lists/lists.css'
import './season.css'
import { useSearchParams } from 'react-router'
import type { SplitGroup } from '../../analysis/progress/split.ts'
import { COMPARE_CAUTIONS } from '../../analysis/progress/compare-words.ts'
import type { InputOf } from '../../main/contract/calls.ts'
import { handOver } from '../host/hand-over.ts'
import { useCall, useChange } from '../host/use-call.ts'
import { SelectField } from '../look/fields.tsx'
import { Notice } from '../look/notice.tsx'
import { SaveAs } from '../look/save-as.tsx'
import { GroupsTable } from './splits.tsx'
import { SAVED_FORMATS } from './saved-formats.ts'

const ALL = 'all'

/** Two dogs, or one dog on two boards, side by side. */
export function CompareScreen() {
  const [search, setSearch] = useSearchParams()
  const one = useSide(search, 'one')
  const other = useSide(search, 'other')
  const set = (name: string, value: string): void => {
    const next = new URLSearchParams(search)
    if (value === ALL) next.delete(name)
    else next.set(name, value)
    setSearch(next, { replace: true })
  }
  const groups = [one.group, other.group].filter((group) => group !== null)
  const asked = askedOf(one, other)
  const comparison = useCall('seasons.compare', asked ?? NOTHING, { enabled: asked !== null })
  const failure = one.failure ?? other.failure ?? comparison.error?.message ?? null
  const { rates, measures, caution } = comparison.data ?? { rates: [], measures: [], caution: null }
  return (
    <div className="screen season">
      <title>Compare, Tiphold</title>
      <div className="screen-head">
        <h1>Compare</h1>
        {asked === null ? null : <SaveComparison asked={asked} />}
      </div>
      <div className="compare-sides">
        <SideChoice label="One side" side={one} onSet={set} />
        <SideChoice label="Other side" side={other} onSet={set} />
      </div>
      {failure === null ? null : <Notice tone="bad">{failure}</Notice>}
      {caution === null ? null : <Notice>{caution}</Notice>}
      {groups.length === 0 ? null : (
        <GroupsTable groups={groups} {...(groups.length === 2 ? { differences: [...rates, ...measures] } : {})} />
      )}
      {asked !== null && comparison.isPending ? <p role="status">Working out the differences</p> : null}
      <p className="soft">A bar is the 95 % interval, a dot the value. {COMPARE_CAUTIONS.join(' ')}</p>
    </div>
  )
}

type Asked = InputOf<'seasons.compare'>

/** Never asked. */
const NOTHING: Asked = { one: { dogId: '-', board: null }, other: { dogId: '-', board: null } }

function askedOf(one: Side, other: Side): Asked | null {
  if (one.dogId === null || other.dogId === null) return null
  const boardOf = ({ board, boards }: Side): string | null => (boards.includes(board) ? board : null)
  return {
    one: { dogId: one.dogId, board: boardOf(one) },
    other: { dogId: other.dogId, board: boardOf(other) },
  }
}

function SaveComparison({ asked }: { readonly asked: Asked }) {
  const save = useChange('seasons.saveComparison')
  return (
    <SaveAs
      formats={SAVED_FORMATS}
      onSave={(format) => save.mutate({ ...asked, format }, { onSuccess: handOver })}
      isSaving={save.isPending}
      failure={save.error?.message ?? null}
    />
  )
}

interface Side {
  readonly name: 'one' | 'other'
  readonly dogId: string | null
  readonly board: string
  readonly boards: readonly string[]
  readonly group: SplitGroup | null
  readonly failure: string | null
}

/** What an address says of one side, and the rides that are meant. */
function useSide(search: URLSearchParams, name: Side['name']): Side {
  const dogId = search.get(name)
  const season = useCall('seasons.get', { dogId: dogId ?? '' }, { enabled: dogId !== null })
  const board = search.get(`${name}-board`) ?? ALL
  const byBoard = season.data?.splits.find(({ by }) => by === 'board')?.groups ?? []
  const group = byBoard.find((one) => one.name === board) ?? season.data?.whole ?? null
  const dog = season.data?.season.dog ?? ''
  return {
    name,
    dogId,
    board,
    boards: byBoard.map((one) => one.name),
    group: group === null ? null : { ...group, name: sideName(dog, board, name) },
    failure: season.error?.message ?? null,
  }
}

function sideName(dog: string, board: string, side: Side['name']): string {
  const what = board === ALL ? dog : `${dog} on ${board}`
  // The same on both sides must still be two columns.
  return side === 'one' ? what : `${what}\u200b`
}

interface SideChoiceProps {
  readonly label: string
  readonly side: Side
  readonly onSet: (name: string, value: string) => void
}

function SideChoice({ label, side, onSet }: SideChoiceProps) {
  const dogs = useCall('dogs.list', {}).data ?? []
  return (
    <div className="form-row" role="group" aria-label={label}>
      <SelectField
        label="Dog"
        options={dogs.map(({ id, name }) => ({ key: id, name }))}
        selected={side.dogId}
        onSelect={(id) => onSet(side.name, id)}
      />
      <SelectField
        label="Board"
        options={[{ key: ALL, name: 'All boards' }, ...side.boards.map((name) => ({ key: name, name }))]}
        selected={side.boards.includes(side.board) ? side.board : ALL}
        onSelect={(name) => onSet(`${side.name}-board`, name)}
      />
    </div>
  )
}
