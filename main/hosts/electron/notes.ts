import { type BrowserWindow, dialog } from 'electron'
import type { Log } from '../answer.ts'

/** What the program has to say that is no reason not to open: of a damaged file, of a library that was moved. */
export interface Notes {
  readonly tell: (sentence: string) => void
  /** Shows what was told so far, and from now on at once. */
  showIn(window: BrowserWindow): void
}

/** Writes every note into the log and shows it as soon as there is a window: nobody reads the terminal of a desktop program. */
export function openNotes(log: Log): Notes {
  const waiting: string[] = []
  let shownIn: BrowserWindow | null = null

  function show(): void {
    if (shownIn === null || shownIn.isDestroyed() || waiting.length === 0) return
    const [message = '', ...more] = waiting.splice(0)
    void dialog.showMessageBox(shownIn, { type: 'info', message, detail: more.join('\n\n'), buttons: ['OK'] })
  }

  return {
    tell(sentence) {
      log(sentence)
      waiting.push(sentence)
      show()
    },
    showIn(window) {
      shownIn = window
      show()
    },
  }
}
