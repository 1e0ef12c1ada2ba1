import { constants } from 'node:fs'
import { type FileHandle, open } from 'node:fs/promises'

/** What was opened is no file that can be read from beginning to end: a folder, a pipe, a device. */
export class NotAFile extends Error {}

/** Opens a file to read. A pipe that nobody writes to is not waited for; anything but a regular file throws `NotAFile`. */
export async function openRegularFile(path: string): Promise<FileHandle> {
  const handle = await open(path, constants.O_RDONLY | (constants.O_NONBLOCK ?? 0))
  try {
    if (!(await handle.stat()).isFile()) throw new NotAFile(path)
    return handle
  } catch (error) {
    await handle.close()
    throw error
  }
}
