import { type Visit, visitFragment, visitOf } from '../../main/contract/visit.ts'

const KEPT_AS = 'tiphold-visit'
const NOBODY: Visit = { askKey: '', viewKey: '' }

/**
 * The visit that this page belongs to: that of the address it was opened with, else that of an earlier page of the same
 * host, so that a reload and a second tab go on with it. The keys are taken out of the address at once.
 */
export function openVisit(): Visit {
  const brought = visitOf(location.hash)
  if (brought === null) return visitOf(localStorage.getItem(KEPT_AS) ?? '') ?? NOBODY
  // Kept for this host and port alone, and void once the host has ended.
  localStorage.setItem(KEPT_AS, visitFragment(brought))
  history.replaceState(null, '', location.pathname)
  return brought
}
