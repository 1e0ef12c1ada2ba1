import { useState } from 'react'
import type { UnreadableThing } from '../../main/contract/unreadable.ts'
import { useCall } from '../host/use-call.ts'
import { Button } from '../look/button.tsx'
import { Notice } from '../look/notice.tsx'

/** Says what of the library cannot be read, and where it lies; nothing when all is sound. */
export function UnreadableThings() {
  const things = useCall('library.unreadable', {}).data ?? []
  if (things.length === 0) return null
  return (
    <Notice tone="unsure">
      <p>
        {things.length === 1 ? 'Something in your library cannot be read. ' : 'Some of your library cannot be read. '}
        Everything else is here. Nothing was deleted: replace the damaged files with good copies, then start Tiphold
        again.
      </p>
      <ul>
        {things.map((thing) => (
          <Unreadable key={thing.folder} thing={thing} />
        ))}
      </ul>
    </Notice>
  )
}

function Unreadable({ thing: { kind, name, id, why, folder } }: { readonly thing: UnreadableThing }) {
  const [isCopied, setIsCopied] = useState(false)
  const copy = () =>
    navigator.clipboard.writeText(folder).then(
      () => setIsCopied(true),
      () => setIsCopied(false),
    )
  return (
    <li>
      The {kind} {name ?? id} is in <span title={why}>{folder}</span>{' '}
      <Button onPress={() => void copy()}>{isCopied ? 'Copied' : 'Copy the path'}</Button>
    </li>
  )
}
