import { useState } from 'react'
import { Form } from 'react-aria-components'
import { useCall, useChange } from '../host/use-call.ts'
import { Answer } from '../look/answer.tsx'
import { Button } from '../look/button.tsx'
import { Confirm, Dialog } from '../look/dialog.tsx'
import { TextField } from '../look/fields.tsx'
import { Notice } from '../look/notice.tsx'
import { bytesInWords } from './bytes-in-words.ts'

/** Where the library lies, and what may be thrown away to save space. */
export function LibrarySettings() {
  const place = useCall('library.place', {})
  const empty = useChange('library.emptyPictures')
  const [open, setOpen] = useState<'move' | 'empty' | null>(null)
  return (
    <section className="settings-part" aria-labelledby="settings-library">
      <h2 id="settings-library">Library</h2>
      <Answer of={place}>
        {({ folder, rides, clips, pictureBytes }) => (
          <div className="library">
            <p>
              {counted(rides, 'ride')} and {counted(clips, 'clip')}, with dogs, boards and marks, in
              <span className="folder">{folder}</span>
            </p>
            <p className="soft">The picture cache takes {bytesInWords(pictureBytes)}; it is rebuilt as needed.</p>
            <div className="library-buttons">
              <Button onPress={() => setOpen('move')}>Move the library</Button>
              <Button isDisabled={pictureBytes === 0 || empty.isPending} onPress={() => setOpen('empty')}>
                Clear picture cache
              </Button>
            </div>
            {empty.error === null ? null : <Notice tone="bad">{empty.error.message}</Notice>}
            {open === 'empty' ? (
              <Confirm
                title="Clear the picture cache?"
                doIt="Clear"
                onDoIt={() => empty.mutate({}, { onSuccess: () => void place.refetch() })}
                onClose={() => setOpen(null)}
              >
                This frees {bytesInWords(pictureBytes)}. Opening a ride takes a little longer the next time.
              </Confirm>
            ) : null}
            {open === 'move' ? (
              <MoveLibrary
                onClose={() => setOpen(null)}
                onMoved={() => {
                  void place.refetch()
                  setOpen(null)
                }}
              />
            ) : null}
          </div>
        )}
      </Answer>
    </section>
  )
}

function MoveLibrary({ onClose, onMoved }: { readonly onClose: () => void; readonly onMoved: () => void }) {
  const move = useChange('library.move')
  const [folder, setFolder] = useState('')
  return (
    <Dialog title="Move the library" onClose={onClose}>
      <Form
        className="form"
        onSubmit={(event) => {
          event.preventDefault()
          move.mutate({ folder: folder.trim() }, { onSuccess: onMoved })
        }}
      >
        <TextField
          label="New folder"
          value={folder}
          onChange={setFolder}
          isRequired
          autoFocus
          hint="The full path of an empty folder, or of a new one."
        />
        {move.error === null ? null : <Notice tone="bad">{move.error.message}</Notice>}
        <div className="dialog-foot">
          <Button onPress={onClose}>Cancel</Button>
          <Button look="primary" type="submit" isDisabled={move.isPending || folder.trim() === ''}>
            {move.isPending ? 'Moving' : 'Move'}
          </Button>
        </div>
      </Form>
    </Dialog>
  )
}

function counted(count: number, what: string): string {
  return count === 1 ? `1 ${what}` : `${count} ${what}s`
}
