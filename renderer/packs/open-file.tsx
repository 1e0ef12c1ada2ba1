import { useState } from 'react'
import { FileTrigger } from 'react-aria-components'
import { useNavigate } from 'react-router'
import type { OpenedReview } from '../../main/contract/review.ts'
import { useClient } from '../host/host-provider.tsx'
import { Button } from '../look/button.tsx'
import { Notice } from '../look/notice.tsx'

type Opening =
  | { readonly kind: 'nothing' }
  | { readonly kind: 'opening'; readonly name: string }
  | { readonly kind: 'failed'; readonly message: string }
  | { readonly kind: 'nothing-new'; readonly rideId: string }

/** Opens what somebody sent: a pack, or a reply to one of ours. */
export function OpenFile() {
  const client = useClient()
  const navigate = useNavigate()
  const [opening, setOpening] = useState<Opening>({ kind: 'nothing' })

  function show(opened: OpenedReview): void {
    if (opened.kind === 'pack') void navigate(`/packs/${opened.packId}`)
    else if (opened.added > 0) void navigate(`/rides/${opened.rideId}`)
    else setOpening({ kind: 'nothing-new', rideId: opened.rideId })
  }

  async function open(file: File): Promise<void> {
    setOpening({ kind: 'opening', name: file.name })
    const brought = await client.bringFile(file, () => undefined)
    if (!brought.ok) {
      setOpening({ kind: 'failed', message: brought.error.message })
      return
    }
    const opened = await client.call('reviews.open', { fileId: brought.value.fileId })
    if (!opened.ok) setOpening({ kind: 'failed', message: opened.error.message })
    else {
      setOpening({ kind: 'nothing' })
      show(opened.value)
    }
  }

  return (
    <div className="open-file">
      <FileTrigger
        acceptedFileTypes={['.zip', '.json']}
        onSelect={(files) => {
          const file = files?.[0]
          if (file !== undefined) void open(file)
        }}
      >
        <Button look="primary" isDisabled={opening.kind === 'opening'}>
          Open a pack or a reply
        </Button>
      </FileTrigger>
      {opening.kind === 'opening' ? <span role="status">Opening {opening.name}</span> : null}
      {opening.kind === 'failed' ? <Notice tone="bad">{opening.message}</Notice> : null}
      {opening.kind === 'nothing-new' ? (
        <Notice actions={<Button onPress={() => void navigate(`/rides/${opening.rideId}`)}>To the ride</Button>}>
          Everything in this reply is there already.
        </Notice>
      ) : null}
    </div>
  )
}
