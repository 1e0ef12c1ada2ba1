import type { MarksProposal } from '../contract/clips.ts'
import { success, type Outcome } from '../contract/outcome.ts'
import type { KeptClip, Library } from '../library/library.ts'
import { carriedProposal } from './clips-carrying.ts'
import type { ClipFiles } from './clips-files.ts'

/** Marks that can be offered for a clip, the likeliest first; nothing is offered that does not look right. */
export async function proposeMarks(
  library: Library,
  files: ClipFiles,
  clip: KeptClip,
): Promise<Outcome<readonly MarksProposal[]>> {
  const { signal } = new AbortController()
  const opened = await files.open(clip.id, signal)
  if (!opened.ok) return opened
  const carried = await carriedProposal(library, files, clip, opened.value, signal)
  return success(carried === null ? [] : [carried])
}
