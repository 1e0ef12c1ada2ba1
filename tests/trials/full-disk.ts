import { execFile } from 'node:child_process'
import { mkdir, rm, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { promisify } from 'node:util'
import { seededRandom } from '../../analysis/numeric/random.ts'
import { openLibrary } from '../../main/library/open-library.ts'
import { inFolder, orHangs, startChild, type TrialResult } from './trial.ts'

const run = promisify(execFile)
const DISK_KIB = 2048
/** Changes that are waited for once the disk has room again. */
const KEPT_AFTER = 5

/**
 * A writer on a small disk that runs full at a different byte each time and is freed again; it is killed after a few
 * more changes. What it was told is kept must be there, and the library must open.
 */
export async function fullDiskTrial(rounds: number): Promise<TrialResult> {
  return inFolder(async (folder) => {
    const disk = join(folder, 'disk')
    await mkdir(disk)
    const counts = { 'full disks': 0, 'acknowledged changes': 0, 'refused changes': 0 }
    const result = { name: 'full disk', counts, faults: [] as string[] }
    try {
      await run('mount', ['-t', 'tmpfs', '-o', `size=${DISK_KIB}k`, 'tiphold-trial', disk])
    } catch {
      return { ...result, skipped: 'a small disk can be made here by the root user of Linux only' }
    }
    try {
      const random = seededRandom(77)
      for (let round = 0; round < rounds; round++) {
        const { kept, refused, faults } = await onFullDisk(disk, Math.floor(150 + 300 * random.uniform()))
        counts['full disks'] += 1
        counts['acknowledged changes'] += kept
        counts['refused changes'] += refused
        result.faults.push(...faults.map((fault) => `full disk ${round}: ${fault}`))
      }
    } finally {
      await run('umount', ['-l', disk])
    }
    return { ...result, skipped: null }
  })
}

async function onFullDisk(
  disk: string,
  roomKib: number,
): Promise<{ kept: number; refused: number; faults: readonly string[] }> {
  const library = join(disk, 'library')
  const ballast = join(disk, 'ballast')
  await rm(library, { recursive: true, force: true })
  await mkdir(library)
  await writeFile(ballast, Buffer.alloc((DISK_KIB - roomKib) * 1024))
  const writer = startChild('filling-child.ts', [library, '0'])
  const count = (what: string) => writer.lines.filter((line) => line.startsWith(what)).length
  try {
    await orHangs(
      'a writer on a full disk',
      writer.said((line) => line.startsWith('refused')),
    )
    await rm(ballast)
    const keptBefore = count('kept')
    await orHangs(
      'a writer on a freed disk',
      writer.said(() => count('kept') >= keptBefore + KEPT_AFTER),
    )
  } finally {
    writer.child.kill('SIGKILL')
    await writer.ended
  }
  const opened = await orHangs('opening after a full disk', openLibrary(library))
  const gone = writer.lines
    .filter((line) => line.startsWith('kept'))
    .map((line) => `dog-${line.split(' ')[1]}`)
    .filter((id) => opened.dogs.get(id)?.note.length !== 1500)
  await opened.close()
  return { kept: count('kept'), refused: count('refused'), faults: gone.map((id) => `${id} was kept and is gone`) }
}
