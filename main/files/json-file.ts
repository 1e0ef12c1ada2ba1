import type { Parsed } from './parsed.ts'
import { NotAFile, openRegularFile } from './regular-file.ts'

/** The JSON value in a file of at most `maxBytes`, not yet checked. */
export async function readJsonFile(path: string, maxBytes = 1_000_000): Promise<Parsed<unknown>> {
  let text: string
  try {
    const file = await openRegularFile(path)
    try {
      const { size } = await file.stat()
      if (size > maxBytes) return bad(`${path}: is ${size} bytes long, too long for such a file; is it another file?`)
      text = await file.readFile('utf8')
    } finally {
      await file.close()
    }
  } catch (error) {
    return bad(`${path}: ${whyUnreadable(error)}`)
  }
  try {
    return { ok: true, value: JSON.parse(text.replace(/^\uFEFF/, '')) as unknown }
  } catch (error) {
    const where = error instanceof Error ? error.message.split('\n')[0] : ''
    return bad(`${path}: is not JSON (${where}); correct it in a text editor`)
  }
}

/** A value as the text of a JSON file. Throws for NaN and Infinity, which JSON would turn into null unseen. */
export function jsonText(value: unknown): string {
  const text = JSON.stringify(value, (key: string, part: unknown) => {
    if (typeof part === 'number' && !Number.isFinite(part)) throw new Error(`${key} is ${part}: not fit for a file`)
    return part
  })
  return `${text}\n`
}

function bad(message: string): Parsed<never> {
  return { ok: false, message }
}

function whyUnreadable(error: unknown): string {
  if (error instanceof NotAFile)
    return 'is not a file that can be read (a folder, pipe or device); give the file itself'
  const code = error instanceof Error && 'code' in error ? error.code : undefined
  if (code === 'ENOENT') return 'there is no such file; check the path'
  if (code === 'EACCES') return 'may not be read; change its permissions'
  return `cannot be read (${error instanceof Error ? error.message : String(error)})`
}
