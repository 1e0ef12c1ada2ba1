import { Trash2 } from 'lucide-react'
import { useState } from 'react'
import { Button, IconButton } from '../look/button.tsx'
import { Confirm } from '../look/dialog.tsx'
import { Notice } from '../look/notice.tsx'

interface Item {
  readonly id: string
  readonly name: string
  readonly about: string
}

export interface KeptListProps {
  readonly what: 'dog' | 'board'
  readonly items: readonly Item[]
  readonly onChange: (id: string) => void
  readonly onRemove: (id: string) => void
  /** What removing does not do, a sentence. */
  readonly removal: string
  readonly failure: string | null
}

/** Dogs or boards with what is known of each, to change or remove. */
export function KeptList({ what, items, onChange, onRemove, removal, failure }: KeptListProps) {
  const [removing, setRemoving] = useState<Item | null>(null)
  return (
    <>
      {failure === null ? null : <Notice tone="bad">{failure}</Notice>}
      <ul className="kept-list card">
        {items.map((item) => (
          <li key={item.id}>
            <div className="kept-words">
              <strong>{item.name}</strong>
              <span className="soft small">{item.about}</span>
            </div>
            <Button aria-label={`Change ${item.name}`} onPress={() => onChange(item.id)}>
              Change
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
