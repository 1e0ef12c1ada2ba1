import { readFile, writeFile } from 'node:fs/promises'

const ONE = 0x10000
const MATRIX_AFTER_NAME = 44

/**
 * Tells players of an MP4 file to turn its first track, the video, a quarter clockwise: the track header's display
 * matrix (ISO/IEC 14496-12, tkhd). Written here because encoder programs differ in how they take the flag.
 */
export async function setQuarterTurn(path: string, storedHeightPx: number): Promise<void> {
  const file = await readFile(path)
  const header = file.indexOf('tkhd')
  if (header < 0) throw new Error(`${path} has no track header.`)
  if (file[header + 4] !== 0) throw new Error(`${path} has a track header with long times, which is not expected.`)
  const matrix = [0, ONE, 0, -ONE, 0, 0, storedHeightPx * ONE, 0, 0x40000000]
  matrix.forEach((value, i) => file.writeInt32BE(value, header + MATRIX_AFTER_NAME + 4 * i))
  await writeFile(path, file)
}
