import { copyFile } from 'node:fs/promises'
import { type Outcome, problem, success } from '../../contract/outcome.ts'
import { writeWhole } from '../../files/whole-file.ts'
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
  saveExport(sender: Sender, exportId: unknown, fileName: unknown): Promise<Outcome<{ readonly isSaved: boolean }>>
}

/** Asks the person where a file is to be saved; null: nowhere. */
export type AskWhere = (fileName: string) => Promise<string | null>

/** Answers the window's own page, and nobody else: no other page, and no frame within a page. */
export function windowLines(
  services: Pick<Services, 'handlers' | 'files' | 'exports'>,
  askWhere: AskWhere,
  log: Log,
): WindowLines {
  return {
    call: async (sender, name, input) => (isOurPage(sender) ? answer(services.handlers, name, input, log) : STRANGER),
    async bringFile(sender, path) {
      if (!isOurPage(sender)) return STRANGER
      if (typeof path !== 'string') return problem('bad-input', 'The file came without a place.')
      return services.files.register(path)
    },
    async saveExport(sender, exportId, fileName) {
      if (!isOurPage(sender)) return STRANGER
      const ready = typeof exportId === 'string' ? services.exports.ready(exportId) : null
      if (ready === null || typeof fileName !== 'string') return NOT_READY
      const path = await askWhere(ready.fileName)
      if (path === null) return success({ isSaved: false })
      try {
        await writeWhole(path, (part) => copyFile(ready.path, part))
        return success({ isSaved: true })
      } catch (error) {
        log('failed while saving a file', error)
        return problem('failed', 'The file could not be saved there: choose another folder.')
      }
    },
  }
}

const NOT_READY = problem('not-found', 'This file is no longer there: make it again.')
const STRANGER = problem('refused', 'Only the window of Tiphold may ask this.')

function isOurPage({ senderFrame }: Sender): boolean {
  return senderFrame !== null && senderFrame.parent === null && senderFrame.url.startsWith(`${WINDOW_ORIGIN}/`)
}
