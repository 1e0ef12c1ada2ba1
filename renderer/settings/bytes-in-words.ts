/** Disk space for people: `bytesInWords(0)` is "no space", `bytesInWords(3_400_000)` "3.4 MB". */
export function bytesInWords(bytes: number): string {
  if (bytes === 0) return 'no space'
  if (bytes < 1e6) return 'less than 1 MB'
  if (bytes < 1e9) return `${(bytes / 1e6).toFixed(bytes < 1e7 ? 1 : 0)} MB`
  return `${(bytes / 1e9).toFixed(1)} GB`
}
