import { useMutation, type UseMutationResult } from '@tanstack/react-query'
import { Undo2, X } from 'lucide-react'
import { createContext, type ReactNode, useContext, useEffect, useEffectEvent, useState } from 'react'
import { useLocation } from 'react-router'
import type { Removed } from '../../main/contract/bin.ts'
import type { InputOf } from '../../main/contract/calls.ts'
import { useClient } from '../host/host-provider.tsx'
import { valueOrThrow } from '../host/problem-error.ts'
import { useChange } from '../host/use-call.ts'
import { Button, IconButton } from '../look/button.tsx'

type Removal = 'dogs.remove' | 'boards.remove' | 'clips.remove' | 'rides.remove' | 'noted.remove' | 'packs.remove'

const RemovedContext = createContext<((removed: Removed) => void) | null>(null)

/** Screens that undo their own changes by the same key. */
const OWN_UNDO = /^\/(rides\/.|clips\/.+\/marking)/
const TEXT = 'input, textarea, [contenteditable]'

/** What was removed since the window was opened, and the way back: a button in the message, and Ctrl+Z. */
export function RemovalsProvider({ children }: { readonly children: ReactNode }) {
  const [removed, setRemoved] = useState<readonly Removed[]>([])
  const [isShown, setIsShown] = useState(false)
  const { pathname } = useLocation()
  const putBack = useChange('bin.putBack')
  const last = removed.at(-1)

  function undo(): void {
    if (last === undefined || putBack.isPending) return
    putBack.mutate(
      { removedId: last.removedId },
      {
        onSuccess: () => {
          setRemoved((all) => all.filter((one) => one !== last))
          setIsShown(removed.length > 1)
        },
      },
    )
  }

  const onKey = useEffectEvent((event: KeyboardEvent): void => {
    const isUndo =
      (event.ctrlKey || event.metaKey) && !event.shiftKey && !event.altKey && event.key.toLowerCase() === 'z'
    if (!isUndo || event.defaultPrevented || last === undefined || OWN_UNDO.test(pathname)) return
    if (event.target instanceof Element && event.target.closest(TEXT) !== null) return
    event.preventDefault()
    undo()
  })
  useEffect(() => {
    const listener = (event: KeyboardEvent): void => onKey(event)
    window.addEventListener('keydown', listener)
    return () => window.removeEventListener('keydown', listener)
  }, [])

  return (
    <RemovedContext
      value={(one) => {
        setRemoved((all) => [...all, one])
        setIsShown(true)
      }}
    >
      {children}
      {last === undefined || !isShown ? null : (
        <div className="removed-message" role="status">
          <span>{putBack.error === null ? `${nameOf(last)} was removed.` : putBack.error.message}</span>
          <Button onPress={undo} isDisabled={putBack.isPending}>
            <Undo2 aria-hidden="true" />
            Undo
          </Button>
          <IconButton label="Close" onPress={() => setIsShown(false)}>
            <X aria-hidden="true" />
          </IconButton>
        </div>
      )}
    </RemovedContext>
  )
}

function nameOf({ name, rides }: Removed): string {
  return rides === 0 ? name : rides === 1 ? `${name} with its ride` : `${name} with its ${rides} rides`
}

/** Removes something, and offers the way back. */
export function useRemove<Name extends Removal>(name: Name): UseMutationResult<Removed, Error, InputOf<Name>> {
  const client = useClient()
  const tell = useContext(RemovedContext)
  if (tell === null) throw new Error('useRemove is used outside of a RemovalsProvider')
  return useMutation({
    mutationKey: [name],
    // All removals give the same.
    mutationFn: async (input: InputOf<Name>) => valueOrThrow(await client.call<Removal>(name, input)),
    onSuccess: tell,
  })
}
