import { createContext, type ReactNode, useContext, useState } from 'react'
import { useQueryClient } from '@tanstack/react-query'
import type { ClipCard } from '../../main/contract/clips.ts'
import { useClient } from '../host/host-provider.tsx'

/** One file on its way into the library. */
export interface Import {
  readonly key: number
  readonly fileName: string
  readonly state: ImportState
}

export type ImportState =
  | { readonly kind: 'sending'; readonly shareDone: number }
  | { readonly kind: 'reading' }
  | { readonly kind: 'failed'; readonly message: string }

interface Imports {
  /** Under way and failed ones; those that arrived are clips and no longer here. */
  readonly imports: readonly Import[]
  /** Takes files in, one after the other; gives the clips that they became. */
  readonly takeIn: (files: readonly File[]) => Promise<readonly ClipCard[]>
  readonly putAway: (key: number) => void
  /** Ends the sending of a file, or takes it out of the row; once it is being read it comes in. */
  readonly stop: (key: number) => void
}

const ImportsContext = createContext<Imports | null>(null)
let lastKey = 0

/** Keeps imports going while the handler looks at other screens. */
export function ImportsProvider({ children }: { readonly children: ReactNode }) {
  const client = useClient()
  const answers = useQueryClient()
  const [imports, setImports] = useState<readonly Import[]>([])
  const [stops] = useState(() => new Map<number, AbortController>())
  const setState = (key: number, state: ImportState): void =>
    setImports((all) => all.map((one) => (one.key === key ? { ...one, state } : one)))
  const putAway = (key: number): void => setImports((all) => all.filter((one) => one.key !== key))

  function stop(key: number): void {
    stops.get(key)?.abort()
    putAway(key)
  }

  async function takeInOne(key: number, file: File, signal: AbortSignal): Promise<ClipCard | null> {
    if (signal.aborted) return null
    const brought = await client.bringFile(file, (shareDone) => setState(key, { kind: 'sending', shareDone }), signal)
    if (signal.aborted) return null
    if (!brought.ok) {
      setState(key, { kind: 'failed', message: brought.error.message })
      return null
    }
    setState(key, { kind: 'reading' })
    const taken = await client.call('clips.takeIn', { fileId: brought.value.fileId })
    if (!taken.ok) {
      setState(key, { kind: 'failed', message: taken.error.message })
      return null
    }
    answers.setQueryData(['clips.get', { clipId: taken.value.card.id }], taken.value)
    putAway(key)
    return taken.value.card
  }

  async function takeIn(files: readonly File[]): Promise<readonly ClipCard[]> {
    const queue = files.map((file) => ({ key: ++lastKey, file }))
    setImports((all) => [
      ...all,
      ...queue.map(({ key, file }): Import => ({
        key,
        fileName: file.name,
        state: { kind: 'sending', shareDone: 0 },
      })),
    ])
    const clips: ClipCard[] = []
    for (const { key } of queue) stops.set(key, new AbortController())
    for (const { key, file } of queue) {
      const clip = await takeInOne(key, file, stops.get(key)!.signal)
      stops.delete(key)
      if (clip !== null) clips.push(clip)
    }
    return clips
  }

  return <ImportsContext value={{ imports, takeIn, putAway, stop }}>{children}</ImportsContext>
}

export function useImports(): Imports {
  const imports = useContext(ImportsContext)
  if (imports === null) throw new Error('useImports is used outside of an ImportsProvider')
  return imports
}
