import { type Outcome, problem } from '../../contract/outcome.ts'
import type { Services } from '../../services/services.ts'
import { answer, type Log } from '../answer.ts'
import { WINDOW_ORIGIN } from './channels.ts'

/** The part of an IPC event that tells who sends it. A frame that is gone is null. */
export interface Sender {
  readonly senderFrame: { readonly url: string; readonly parent: unknown } | null
}

/** What the shell answers on each line from its window. */
export interface WindowLines {
  call(sender: Sender, name: unknown, input: unknown): Promise<Outcome<unknown>>
  bringFile(sender: Sender, path: unknown): Promise<Outcome<{ readonly fileId: string }>>
}

/** Answers the window's own page, and nobody else: no other page, and no frame within a page. */
export function windowLines(services: Pick<Services, 'handlers' | 'files'>, log: Log): WindowLines {
  return {
    call: async (sender, name, input) => (isOurPage(sender) ? answer(services.handlers, name, input, log) : STRANGER),
    async bringFile(sender, path) {
      if (!isOurPage(sender)) return STRANGER
      if (typeof path !== 'string') return problem('bad-input', 'The file came without a place.')
      return services.files.register(path)
    },
  }
}

const STRANGER = problem('refused', 'Only the window of Tiphold may ask this.')

function isOurPage({ senderFrame }: Sender): boolean {
  return senderFrame !== null && senderFrame.parent === null && senderFrame.url.startsWith(`${WINDOW_ORIGIN}/`)
}
