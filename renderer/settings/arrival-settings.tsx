import { useState } from 'react'
import { Form } from 'react-aria-components'
import { useQueryClient } from '@tanstack/react-query'
import { useSettings } from '../app/use-settings.ts'
import { useChange } from '../host/use-call.ts'
import { Button } from '../look/button.tsx'
import { Tick } from '../look/choice.tsx'
import { TextField } from '../look/fields.tsx'
import { Notice } from '../look/notice.tsx'

/** What happens to clips that come in, and the folder in which they arrive. */
export function ArrivalSettings() {
  const { settings, change } = useSettings()
  return (
    <section className="settings-part" aria-labelledby="settings-arrival">
      <h2 id="settings-arrival">New clips</h2>
      <div className="settings-fields">
        <div>
          <Tick isSelected={settings.measureOnArrival} onChange={(measureOnArrival) => change({ measureOnArrival })}>
            Measure on arrival
          </Tick>
          <p className="soft small">
            Only where the camera stands as in an earlier clip. Dog and board are taken from the last clip; change the
            dog on the ride if it was another one.
          </p>
        </div>
        <WatchedFolder folder={settings.watchedFolder} />
      </div>
    </section>
  )
}

function WatchedFolder({ folder }: { readonly folder: string | null }) {
  const answers = useQueryClient()
  const keep = useChange('settings.keep')
  const [typed, setTyped] = useState('')
  const follow = (watchedFolder: string | null): void =>
    keep.mutate({ watchedFolder }, { onSuccess: (kept) => void answers.setQueryData(['settings.get', {}], kept) })
  if (folder !== null) {
    return (
      <div>
        <p>
          New clips in <span className="folder">{folder}</span> are taken in while Tiphold is open. Nothing in there is
          moved or deleted.
        </p>
        <Button isDisabled={keep.isPending} onPress={() => follow(null)}>
          Stop watching
        </Button>
      </div>
    )
  }
  return (
    <Form
      className="form"
      onSubmit={(event) => {
        event.preventDefault()
        follow(typed.trim())
      }}
    >
      <TextField
        label="Folder in which new clips arrive"
        value={typed}
        onChange={setTyped}
        hint="Its full path. Clips that arrive there while Tiphold is open are taken in; nothing is moved or deleted."
      />
      {keep.error === null ? null : <Notice tone="bad">{keep.error.message}</Notice>}
      <div>
        <Button type="submit" isDisabled={typed.trim() === '' || keep.isPending}>
          Watch this folder
        </Button>
      </div>
    </Form>
  )
}
