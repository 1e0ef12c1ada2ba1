import '../lists/lists.css'
import './season.css'
import { useSearchParams } from 'react-router'
import type { SplitGroup } from '../../analysis/progress/split.ts'
import { useCall } from '../host/use-call.ts'
import { SelectField } from '../look/fields.tsx'
import { Notice } from '../look/notice.tsx'
import { GroupsTable } from './splits.tsx'

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
  const failure = one.failure ?? other.failure
  return (
    <div className="screen season">
      <title>Compare, Tiphold</title>
      <div className="screen-head">
        <h1>Compare</h1>
      </div>
      <div className="compare-sides">
        <SideChoice label="One side" side={one} onSet={set} />
        <SideChoice label="Other side" side={other} onSet={set} />
      </div>
      {failure === null ? null : <Notice tone="bad">{failure}</Notice>}
      {groups.length === 0 ? null : <GroupsTable groups={groups} />}
      <p className="soft">
        A bar is the 95 % interval, a dot the value. Where bars overlap a lot, the difference may be chance, and dogs
        ride different boards: look at the same board on both sides before you say that one dog is better.
      </p>
    </div>
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
