import { useState } from 'react'
import { FileTrigger, Form } from 'react-aria-components'
import type { BackupContents } from '../../main/contract/settings.ts'
import { useClient } from '../host/host-provider.tsx'
import { useChange } from '../host/use-call.ts'
import { momentInWords } from '../lists/verdict-words.ts'
import { Button } from '../look/button.tsx'
import { Dialog } from '../look/dialog.tsx'
import { TextField } from '../look/fields.tsx'
import { Notice } from '../look/notice.tsx'
import { bytesInWords } from './bytes-in-words.ts'

interface LibraryDialogProps {
  /** Of the library that is open. */
  readonly presentFolder: string
  readonly onClose: () => void
}

type Chosen =
  | { readonly kind: 'nothing' }
  | { readonly kind: 'opening'; readonly name: string }
  | { readonly kind: 'failed'; readonly message: string }
  | { readonly kind: 'there'; readonly name: string; readonly fileId: string; readonly holds: BackupContents }

/** A backup into an empty or new folder, never over what is there. */
export function RestoreLibrary({ presentFolder, onClose }: LibraryDialogProps) {
  const client = useClient()
  const restore = useChange('library.restore')
  const [chosen, setChosen] = useState<Chosen>({ kind: 'nothing' })
  const [folder, setFolder] = useState('')
  const done = restore.data

  function letGo(): void {
    if (chosen.kind === 'there') void client.call('library.letBackupGo', { fileId: chosen.fileId })
  }

  async function choose(file: File): Promise<void> {
    letGo()
    setChosen({ kind: 'opening', name: file.name })
    const brought = await client.bringFile(file, () => undefined)
    if (!brought.ok) return setChosen({ kind: 'failed', message: brought.error.message })
    const { fileId } = brought.value
    const holds = await client.call('library.lookIntoBackup', { fileId })
    if (holds.ok) return setChosen({ kind: 'there', name: file.name, fileId, holds: holds.value })
    await client.call('library.letBackupGo', { fileId })
    setChosen({ kind: 'failed', message: holds.error.message })
  }

  return (
    <Dialog
      title="Restore a backup"
      onClose={() => {
        letGo()
        onClose()
      }}
    >
      <Form
        className="form"
        onSubmit={(event) => {
          event.preventDefault()
          if (chosen.kind === 'there') restore.mutate({ fileId: chosen.fileId, folder: folder.trim() })
        }}
      >
        <FileTrigger
          acceptedFileTypes={['.zip']}
          onSelect={(files) => {
            const file = files?.[0]
            if (file !== undefined) void choose(file)
          }}
        >
          <Button isDisabled={chosen.kind === 'opening' || done !== undefined}>Choose the backup</Button>
        </FileTrigger>
        {chosen.kind === 'opening' ? <p role="status">Opening {chosen.name}</p> : null}
        {chosen.kind === 'failed' ? <Notice tone="bad">{chosen.message}</Notice> : null}
        {chosen.kind === 'there' ? (
          <p role="status">
            <strong>
              <bdi>{chosen.name}</bdi>
            </strong>
            : {holdsInWords(chosen.holds)}
          </p>
        ) : null}
        <TextField
          label="Into this folder"
          value={folder}
          onChange={setFolder}
          isRequired
          isDisabled={done !== undefined}
          hint="The full path of an empty folder, or of a new one. Your present library is not touched."
        />
        {restore.error === null ? null : <Notice tone="bad">{restore.error.message}</Notice>}
        {done === undefined ? null : <UseNext folder={done.folder} presentFolder={presentFolder} />}
        <div className="dialog-foot">
          <Button
            onPress={() => {
              letGo()
              onClose()
            }}
          >
            {done === undefined ? 'Cancel' : 'Close'}
          </Button>
          {done === undefined ? (
            <Button
              look="primary"
              type="submit"
              isDisabled={chosen.kind !== 'there' || folder.trim() === '' || restore.isPending}
            >
              {restore.isPending ? 'Restoring' : 'Restore'}
            </Button>
          ) : null}
        </div>
      </Form>
    </Dialog>
  )
}

/** The library of another folder, from the next start on. */
export function OtherLibrary({ presentFolder, onClose }: LibraryDialogProps) {
  const openNext = useChange('library.openNext')
  const [folder, setFolder] = useState('')
  return (
    <Dialog title="Use another library" onClose={onClose}>
      <Form
        className="form"
        onSubmit={(event) => {
          event.preventDefault()
          openNext.mutate({ folder: folder.trim() })
        }}
      >
        <TextField
          label="Folder of the other library"
          value={folder}
          onChange={setFolder}
          isRequired
          autoFocus
          hint="Its full path. It is opened from the next start on; this one stays where it is."
        />
        {openNext.error === null ? null : <Notice tone="bad">{openNext.error.message}</Notice>}
        {openNext.isSuccess ? <NextTime presentFolder={presentFolder} /> : null}
        <div className="dialog-foot">
          <Button onPress={onClose}>Close</Button>
          <Button look="primary" type="submit" isDisabled={openNext.isPending || folder.trim() === ''}>
            Use
          </Button>
        </div>
      </Form>
    </Dialog>
  )
}

function UseNext({ folder, presentFolder }: { readonly folder: string; readonly presentFolder: string }) {
  const openNext = useChange('library.openNext')
  if (openNext.isSuccess) return <NextTime presentFolder={presentFolder} />
  return (
    <>
      <Notice
        tone="good"
        actions={
          <Button isDisabled={openNext.isPending} onPress={() => openNext.mutate({ folder })}>
            Use it from the next start
          </Button>
        }
      >
        Restored, every file as it was backed up.
      </Notice>
      {openNext.error === null ? null : <Notice tone="bad">{openNext.error.message}</Notice>}
    </>
  )
}

function NextTime({ presentFolder }: { readonly presentFolder: string }) {
  return (
    <Notice tone="good">
      Close Tiphold and start it again to use it. The library that is open now stays in {presentFolder}; “Use another
      library” brings you back to it.
    </Notice>
  )
}

function holdsInWords({ madeAt, bytes, dogs, boards, clips, rides, ridesNotFilmed, packs }: BackupContents): string {
  const counted = (count: number, what: string): string => `${count} ${what}${count === 1 ? '' : 's'}`
  const parts = [
    counted(dogs, 'dog'),
    counted(boards, 'board'),
    counted(clips, 'clip'),
    counted(rides, 'filmed ride'),
    ...(ridesNotFilmed === 0 ? [] : [`${counted(ridesNotFilmed, 'ride')} without a film`]),
    ...(packs === 0 ? [] : [counted(packs, 'pack')]),
  ]
  const when = madeAt === null ? '' : ` Made ${momentInWords(madeAt)}.`
  return `${parts.join(', ')}; ${bytesInWords(bytes)} once restored.${when}`
}
