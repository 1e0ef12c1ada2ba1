import { type Outcome, problem } from '../../main/contract/outcome.ts'
import { type Visit, VISIT_HEADER } from '../../main/contract/visit.ts'

/** Sends a file to the loopback host, telling how far it is; gives its `fileId`. The host keeps nothing of half a file. */
export function uploadFile(
  { askKey }: Visit,
  file: File,
  onShareDone: (share: number) => void,
  signal?: AbortSignal,
): Promise<Outcome<{ readonly fileId: string }>> {
  return new Promise((resolve) => {
    // Only this older interface tells how much was sent.
    const request = new XMLHttpRequest()
    request.upload.addEventListener('progress', ({ loaded, total }) => onShareDone(total > 0 ? loaded / total : 0))
    request.addEventListener('load', () => resolve(outcomeOf(request.responseText)))
    request.addEventListener('error', () => resolve(cut()))
    request.addEventListener('abort', () => resolve(cut()))
    signal?.addEventListener('abort', () => request.abort())
    request.open('PUT', '/files')
    request.setRequestHeader('content-type', 'application/octet-stream')
    request.setRequestHeader(VISIT_HEADER, askKey)
    request.setRequestHeader('x-file-name', encodeURIComponent(file.name))
    request.send(file)
  })
}

function outcomeOf(text: string): Outcome<{ readonly fileId: string }> {
  try {
    return JSON.parse(text) as Outcome<{ readonly fileId: string }>
  } catch {
    return cut()
  }
}

function cut(): Outcome<never> {
  return problem('failed', 'The file did not arrive complete. Try again.')
}
