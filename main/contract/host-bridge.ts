import type { CallName, Happening, InputOf, ValueOf } from './calls.ts'
import type { Outcome } from './outcome.ts'

/** The name under which the desktop shell's preload script puts its bridge on the window. */
export const BRIDGE_NAME = 'tipholdHost'

/** What the desktop shell lets the window do: nothing but the calls, handing over a file, and listening. */
export interface HostBridge {
  call<Name extends CallName>(name: Name, input: InputOf<Name>): Promise<Outcome<ValueOf<Name>>>
  /** The shell learns the file's place; the window only gets an id. */
  bringFile(file: File): Promise<Outcome<{ readonly fileId: string }>>
  /** The shell asks where to save it; the window never learns the place. */
  saveExport(exportId: string, fileName: string): Promise<Outcome<{ readonly isSaved: boolean }>>
  listen(onHappening: (happening: Happening) => void): () => void
}
