import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { open } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, test } from 'vitest'
import { checkClaims, readMp4Claims } from '../../../../main/film/media/mp4-claims.ts'

const folder = mkdtempSync(join(tmpdir(), 'mp4-claims-'))
afterAll(() => rmSync(folder, { recursive: true }))
const sound = readFileSync('sample-clips/clips/wren-hold.mp4')

async function claimsOf(bytes: Buffer) {
  const path = join(folder, 'clip.mp4')
  writeFileSync(path, bytes)
  const file = await open(path)
  try {
    return await readMp4Claims(file, 'clip.mp4')
  } finally {
    await file.close()
  }
}

/** The sound clip with a big-endian number written at an offset after the first place of a box's name. */
function changed(box: string, offset: number, value: number): Buffer {
  const bytes = Buffer.from(sound)
  bytes.writeUInt32BE(value, bytes.indexOf(box, 0, 'latin1') + 4 + offset)
  return bytes
}

// Offsets by ISO/IEC 14496-12: stts and stsz after version and flags.
describe('the index of an MP4', () => {
  test('tells of a sound clip what ffprobe counts: 156 frames, 5.2 s', async () => {
    const [video] = (await claimsOf(sound)).filter(({ isVideo }) => isVideo)
    expect(video?.samples).toBe(156)
    expect(video?.listedS).toBeCloseTo(5.2, 3)
    expect(video?.statedS).toBeCloseTo(5.2, 3)
    expect(checkClaims(await claimsOf(sound), sound.length, 'clip.mp4')).toEqual([])
  })

  test.each(['stts', 'stsz'])('that speaks in %s of more samples than the file has bytes is refused', async (table) => {
    const claims = await claimsOf(changed(table, 8, 400_000_000))
    expect(() => checkClaims(claims, sound.length, 'clip.mp4')).toThrow(
      /^clip\.mp4 claims to hold 400000000 pictures or pieces of sound, more than a clip of its size can: copy/,
    )
  })

  test('whose frame times do not add up to its length is refused', async () => {
    const delta = sound.readUInt32BE(sound.indexOf('stts') + 16)
    const claims = await claimsOf(changed('stts', 12, 3 * delta))
    expect(() => checkClaims(claims, sound.length, 'clip.mp4')).toThrow(/15\.6 s together, but it states 5\.2 s/)
  })

  test('that is cut off, or no index at all, is left to ffmpeg', async () => {
    expect(await claimsOf(sound.subarray(0, 30))).toEqual([])
    expect(await claimsOf(Buffer.alloc(100))).toEqual([])
  })
})
