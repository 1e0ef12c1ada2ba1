import type { MarksDraft } from '../../main/contract/clips.ts'
import * as history from '../app/history.ts'

/** Marks with what they were before and what was taken back. */
export type MarksHistory = history.History<MarksDraft>
export type HistoryAction = history.HistoryAction<MarksDraft>

export const beginHistory = history.beginHistory<MarksDraft>
export const advance = history.advance<MarksDraft>
