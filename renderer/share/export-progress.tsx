import { Button } from '../look/button.tsx'
import { Notice } from '../look/notice.tsx'
import { Progress } from '../look/progress.tsx'
import { sizeInWords } from './size-in-words.ts'
import type { Exporting } from './use-export.ts'

/** How far a file is, what is in it, and that it was saved. */
export function ExportProgress({ exporting }: { readonly exporting: Exporting }) {
  const { now, problem, isSaved, save, stop } = exporting
  if (problem !== null) return <Notice tone="bad">{problem}</Notice>
  if (now === null) return null
  const { state } = now
  if (state.kind === 'running') {
    return (
      <div className="job-progress">
        <Progress label={state.doing} shareDone={state.shareDone} />
        <Button onPress={stop}>Cancel</Button>
      </div>
    )
  }
  if (state.kind !== 'ready') return null
  const { fileName, bytes, contains } = state
  return (
    <Notice
      tone={isSaved ? 'good' : 'plain'}
      actions={<Button onPress={save}>{isSaved ? 'Save again' : 'Save'}</Button>}
    >
      <strong>{isSaved ? `Saved: ${fileName}` : fileName}</strong> ({sizeInWords(bytes)})
      {contains.length === 0 ? null : (
        <ul className="share-contains" aria-label="What is in it">
          {contains.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      )}
    </Notice>
  )
}
