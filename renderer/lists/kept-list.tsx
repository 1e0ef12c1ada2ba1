import { Trash2 } from 'lucide-react'
import { useState } from 'react'
import { Link } from 'react-router'
import type { RideCount } from '../../main/contract/rides.ts'
import { Button, IconButton } from '../look/button.tsx'
import { Confirm } from '../look/dialog.tsx'
import { Notice } from '../look/notice.tsx'
import { dayInWords } from './verdict-words.ts'

interface Item {
  readonly id: string
  readonly name: string
  readonly about: string
  /** Where its own page is. */
  readonly page?: string
}

export interface KeptListProps {
  readonly what: 'dog' | 'board'
  readonly items: readonly Item[]
  /** By id; null until they are known. */
  readonly counts: Readonly<Record<string, RideCount>> | null
  readonly onChange: (id: string) => void
  readonly onRemove: (id: string) => void
  /** What removing does not do, a sentence. */
  readonly removal: string
  readonly failure: string | null
}

/** Dogs or boards with what is known of each, to see their rides, to change or to remove. */
export function KeptList({ what, items, counts, onChange, onRemove, removal, failure }: KeptListProps) {
  const [removing, setRemoving] = useState<Item | null>(null)
  return (
    <>
      {failure === null ? null : <Notice tone="bad">{failure}</Notice>}
      <ul className="kept-list card">
        {items.map((item) => (
          <li key={item.id}>
            <div className="kept-words">
              {item.page === undefined ? (
                <strong>{item.name}</strong>
              ) : (
                <Link to={item.page}>
                  <strong>{item.name}</strong>
                </Link>
              )}
              <span className="soft small">{item.about}</span>
            </div>
            {counts === null ? null : <RidesOf what={what} item={item} count={counts[item.id] ?? null} />}
            <Button aria-label={`Edit ${item.name}`} onPress={() => onChange(item.id)}>
              Edit
            </Button>
            <IconButton label={`Remove ${item.name}`} onPress={() => setRemoving(item)}>
              <Trash2 aria-hidden="true" />
            </IconButton>
          </li>
        ))}
      </ul>
      {removing === null ? null : (
        <Confirm
          title={`Remove the ${what} ${removing.name}?`}
          doIt="Remove"
          onDoIt={() => onRemove(removing.id)}
          onClose={() => setRemoving(null)}
        >
          {removal}
        </Confirm>
      )}
    </>
  )
}

interface RidesOfProps {
  readonly what: 'dog' | 'board'
  readonly item: Item
  readonly count: RideCount | null
}

function RidesOf({ what, item, count }: RidesOfProps) {
  if (count === null) return <span className="soft small">No filmed rides</span>
  const { rides, lastAt } = count
  return (
    <span className="kept-rides">
      <Link to={`/rides?${what}=${item.id}`} aria-label={`Rides of ${item.name}`}>
        {rides === 1 ? '1 ride' : `${rides} rides`}
      </Link>
      <span className="soft small">last on {dayInWords(lastAt)}</span>
    </span>
  )
}
