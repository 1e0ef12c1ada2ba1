import { execFile } from 'node:child_process'
import { mkdtemp, readFile, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { promisify } from 'node:util'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { chooseFfmpeg } from '../../../main/film/engines/ffmpeg-choice.ts'
import { probeClip } from '../../../main/film/media/probe-clip.ts'
import { wrenHold } from '../../analysis/ride/wren-hold.ts'
import { exported, exportedPath, putWrenHold, SAMPLES, servicesOn } from '../outputs/review/library-with-ride.ts'

const run = promisify(execFile)
const overlays = { plank: true, zones: true, paws: true, dog: true }
const clipOrder = { what: 'clip', overlays, isSlowed: true, hasTitle: true, hasSound: false } as const

/** A copy of the sample clip that says where and with what it was filmed, as phones do. */
async function taggedClip(folder: string): Promise<string> {
  const path = join(folder, 'tagged.mp4')
  const { ffmpegPath } = await chooseFfmpeg()
  const tags = ['location=+51.5000-000.1200/', 'make=Acme', 'model=Phone 7', 'comment=my garden', 'title=At home']
  const args = ['-v', 'error', '-i', join(SAMPLES, 'wren-hold.mp4'), '-c', 'copy', '-movflags', 'use_metadata_tags']
  await run(ffmpegPath, [...args, ...tags.flatMap((tag) => ['-metadata', tag]), '-y', path])
  return path
}

async function tagsOf(path: string): Promise<string> {
  const { ffprobePath } = await chooseFfmpeg()
  const args = ['-v', 'error', '-show_entries', 'format_tags:stream_tags', '-of', 'json', path]
  return (await run(ffprobePath!, args)).stdout
}

let folder: string
let clip: string
let rideId: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tiphold-exports-'))
  clip = await taggedClip(folder)
  rideId = await putWrenHold(join(folder, 'library'), clip)
})
afterAll(() => rm(folder, { recursive: true, force: true }))

/** Services on the one library of these tests, which only read it. */
const onLibrary = () => servicesOn(join(folder, 'library'))

describe('a ride is saved', () => {
  test('as a film in real time with slow passages, without a word of where and with what it was filmed', async () => {
    const services = await onLibrary()
    const path = await exportedPath(services, { ...clipOrder, rideId })
    const film = await probeClip(path, await chooseFfmpeg())
    expect(film.video.codec).toBe('h264')
    // From half a second before the dog is on to 0.6 s after it has left; 0.3 s about the tip and 0.6 s about the landing
    // take four times as long.
    const { tipStart, grounded, firstOn, left } = wrenHold.measured.events
    const at = (event: typeof left) => (event.kind === 'measured' ? event.value : NaN)
    const shownS = Math.min(5.2, at(left) + 0.6) - (at(firstOn) - 0.5)
    const slowS = Math.min(0.9, at(grounded) + 0.4 - (at(tipStart) - 0.15))
    const lastS = film.video.fileTimesS.at(-1) ?? NaN
    expect(Math.abs(lastS - (3.5 + shownS + 3 * slowS))).toBeLessThan(0.1)
    expect(await tagsOf(clip)).toMatch(/51\.5|Acme|garden/)
    expect(await tagsOf(path)).not.toMatch(/51\.5|Acme|Phone|garden|At home|creation_time/)
  })

  test('as numbers, still and report that say what holds now', async () => {
    const services = await onLibrary()
    const json = JSON.parse(
      await readFile(await exportedPath(services, { what: 'numbers-json', rideId }), 'utf8'),
    ) as unknown
    expect(json).toEqual(wrenHold.measured)
    const csv = await readFile(await exportedPath(services, { what: 'numbers-csv', rideId }), 'utf8')
    const { tipStart } = wrenHold.measured.events
    expect(csv).toContain(`events,tipStart,${tipStart.kind === 'measured' ? tipStart.value : NaN},`)
    const png = await readFile(await exportedPath(services, { what: 'still', rideId, atS: 2.65, overlays }))
    expect(png.subarray(1, 4).toString()).toBe('PNG')
    expect([png.readUInt32BE(16), png.readUInt32BE(20)]).toEqual([960, 540])
    const html = await readFile(await exportedPath(services, { what: 'report-html', rideId }), 'utf8')
    expect(html).toContain('Wren')
    expect(html).not.toContain('Acme')
    const pdf = await readFile(await exportedPath(services, { what: 'report-pdf', rideId }))
    expect(pdf.subarray(0, 5).toString()).toBe('%PDF-')
  })

  test('no longer once it is stopped, and nothing is left of it', async () => {
    const services = await onLibrary()
    const started = await services.handlers['exports.start']({ ...clipOrder, rideId })
    const exportId = started.ok ? started.value.id : ''
    await services.handlers['exports.stop']({ exportId })
    expect(services.exports.ready(exportId)).toBeNull()
    expect((await services.handlers['exports.get']({ exportId })).ok).toBe(false)
  })

  test('a ride that is gone is said to be gone', async () => {
    const services = await onLibrary()
    const { state } = await exported(services, { what: 'numbers-csv', rideId: 'no-ride' })
    expect(state).toEqual({ kind: 'failed', message: 'This ride is no longer in the library.' })
  })
})
