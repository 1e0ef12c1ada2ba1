import { createHash } from 'node:crypto'
import { createReadStream, createWriteStream } from 'node:fs'
import { pipeline } from 'node:stream/promises'
import yazl from 'yazl'
import type { ReviewItem } from '../../../analysis/review/review-item.ts'
import type { Ride } from '../../../analysis/ride/ride.ts'
import type { MarksDraft } from '../../contract/clips.ts'
import type { RideCorrections, RidePictureRecord } from '../../contract/rides.ts'
import { jsonText } from '../../files/json-file.ts'
import { sha256Of } from '../../film/media/probe-clip.ts'
import { PACK_FILES, type PackInfo } from './pack-files.ts'
import { itemsOnDisk } from './review-file.ts'

/** All that goes into a pack. */
export interface PackContents {
  readonly info: Omit<PackInfo, 'files'>
  readonly ride: Ride
  /** Of the film's frames alone. */
  readonly picture: RidePictureRecord
  readonly corrections: RideCorrections
  readonly marks: MarksDraft
  readonly items: readonly ReviewItem[]
  readonly clipPath: string
  /** `review.html`. */
  readonly page: string
  /** What is in it, a line each, for the note beside. */
  readonly contains: readonly string[]
}

/** Writes a pack as a ZIP file that any ZIP tool opens. */
export async function writePack(contents: PackContents, path: string): Promise<void> {
  const { info, ride, picture, corrections, marks, items, clipPath, page } = contents
  const texts: Readonly<Record<string, string>> = {
    [PACK_FILES.ride]: jsonText(ride),
    [PACK_FILES.picture]: jsonText(picture),
    [PACK_FILES.corrections]: jsonText(corrections),
    [PACK_FILES.marks]: jsonText(marks),
    [PACK_FILES.comments]: jsonText({ items: itemsOnDisk(items) }),
  }
  const files = {
    ...Object.fromEntries(Object.entries(texts).map(([name, text]) => [name, hashOf(text)])),
    [PACK_FILES.clip]: await sha256Of(clipPath),
  }
  const zip = new yazl.ZipFile()
  const options = { mtime: new Date(info.madeAt), mode: 0o100644 }
  const add = (name: string, text: string): void => zip.addBuffer(Buffer.from(text), name, options)
  add(PACK_FILES.readMe, readMe(contents))
  add(PACK_FILES.page, page)
  add(PACK_FILES.pack, jsonText({ ...info, files }))
  for (const [name, text] of Object.entries(texts)) add(name, text)
  zip.addReadStream(createReadStream(clipPath), PACK_FILES.clip, { ...options, compress: false })
  zip.end()
  await pipeline(zip.outputStream, createWriteStream(path))
}

function hashOf(text: string): string {
  return createHash('sha256').update(text).digest('hex')
}

function readMe({ info, contains }: PackContents): string {
  return [
    `A ride over the seesaw: ${info.dogName === '' ? info.title : `${info.dogName}, ${info.title}`}`,
    `Sent by ${info.handler.name}.`,
    '',
    `Open ${PACK_FILES.page} in any browser to look at it and to write comments; no network is needed.`,
    'In Tiphold, open the whole ZIP file instead.',
    'Save your reply there and send the reply file back.',
    '',
    'In this pack:',
    ...contains.map((line) => `- ${line}`),
    '',
    'The numbers are measured from a film and have margins. The rule book, the judge, the coach and the vet decide.',
    '',
  ].join('\r\n')
}
