import { useState } from 'react'
import { Form } from 'react-aria-components'
import { useCall, useChange } from '../host/use-call.ts'
import { Answer } from '../look/answer.tsx'
import { Button } from '../look/button.tsx'
import { Confirm, Dialog } from '../look/dialog.tsx'
import { TextField } from '../look/fields.tsx'
import { Notice } from '../look/notice.tsx'
import { OtherLibrary, RestoreLibrary } from './restore-library.tsx'
import { bytesInWords } from './bytes-in-words.ts'

/** Where the library lies, and what may be thrown away to save space. */
export function LibrarySettings() {
  const place = useCall('library.place', {})
  const empty = useChange('library.emptyPictures')
  const [open, setOpen] = useState<'move' | 'empty' | 'back-up' | 'restore' | 'other' | null>(null)
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
              <Button onPress={() => setOpen('back-up')}>Back up to a file</Button>
              <Button onPress={() => setOpen('restore')}>Restore a backup</Button>
              <Button onPress={() => setOpen('move')}>Move the library</Button>
              <Button onPress={() => setOpen('other')}>Use another library</Button>
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
            {open === 'restore' ? <RestoreLibrary presentFolder={folder} onClose={() => setOpen(null)} /> : null}
            {open === 'other' ? <OtherLibrary presentFolder={folder} onClose={() => setOpen(null)} /> : null}
            {open === 'back-up' ? <BackUpLibrary onClose={() => setOpen(null)} /> : null}
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

function BackUpLibrary({ onClose }: { readonly onClose: () => void }) {
  const backUp = useChange('library.backUp')
  const [path, setPath] = useState('')
  const done = backUp.data
  return (
    <Dialog title="Back up the library" onClose={onClose}>
      <Form
        className="form"
        onSubmit={(event) => {
          event.preventDefault()
          backUp.mutate({ path: path.trim() })
        }}
      >
        <TextField
          label="To this file"
          value={path}
          onChange={setPath}
          isRequired
          autoFocus
          hint="The whole path of a file that ends in .zip. A file of that name is written over."
        />
        {backUp.error === null ? null : <Notice tone="bad">{backUp.error.message}</Notice>}
        {done === undefined ? null : (
          <Notice tone="good">
            Saved, {bytesInWords(done.bytes)}.{' '}
            {done.clipsElsewhere === 0
              ? ''
              : `${counted(done.clipsElsewhere, 'clip')} in folders of your own ${done.clipsElsewhere === 1 ? 'is' : 'are'} not in it: keep copies of those yourself. `}
            “Restore a backup” brings it back into an empty folder.
          </Notice>
        )}
        <div className="dialog-foot">
          <Button onPress={onClose}>Close</Button>
          <Button look="primary" type="submit" isDisabled={backUp.isPending || path.trim() === ''}>
            {backUp.isPending ? 'Saving' : 'Save'}
          </Button>
        </div>
      </Form>
    </Dialog>
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
