import type { SavedFile } from '../../main/contract/seasons.ts'

/** Gives a file to the browser or the desktop to save. */
export function handOver({ fileName, mediaType, base64 }: SavedFile): void {
  const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0))
  const address = URL.createObjectURL(new Blob([bytes], { type: mediaType }))
  const link = document.createElement('a')
  link.href = address
  link.download = fileName
  link.click()
  // The file is taken over at once; its address is let go of in the next turn.
  setTimeout(() => URL.revokeObjectURL(address))
}
