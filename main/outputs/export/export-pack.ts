import { randomUUID } from 'node:crypto'
import { rm } from 'node:fs/promises'
import { readReview } from '../../../analysis/review/read-review.ts'
import { FILM_SIZES, type ExportOrder } from '../../contract/exports.ts'
import type { MarksDraft } from '../../contract/clips.ts'
import type { PackDetail, ReviewSelf } from '../../contract/review.ts'
import type { RidePictureRecord } from '../../contract/rides.ts'
import { OutputProblem } from '../../files/output-folder.ts'
import { probeClip } from '../../film/media/probe-clip.ts'
import { frameJpegs } from '../../film/pictures/frame-jpegs.ts'
import type { ShownRide } from '../../measuring/measured-ride.ts'
import { programVersion } from '../../program-version.ts'
import { PACK_FILES, PACK_FORMAT } from '../review/pack-files.ts'
import { reviewPage, type ReviewPageData } from '../review/review-page.ts'
import { writePack } from '../review/write-pack.ts'
import type { FfmpegChoice } from '../../film/engines/ffmpeg-choice.ts'
import { shownElements, shownOf, type RideSource } from './export-rides.ts'
import { writeRideFilm } from './ride-film.ts'

/** Pictures in a pack's page at most; of longer films every second, third ... frame is shown there. */
const MOST_PAGE_FRAMES = 400
const PAGE_COARSENESS = 5

export interface PackSource extends Omit<RideSource, 'ffmpeg'> {
  readonly ffmpeg: FfmpegChoice
  readonly marks: MarksDraft
  readonly self: ReviewSelf
  /** Where the page's built script and style lie. */
  readonly pageFolder: string
}

/** Writes a review pack; gives what is in it, a line each. */
export async function writeReviewPack(
  source: PackSource,
  order: Extract<ExportOrder, { what: 'pack' }>,
  path: string,
): Promise<readonly string[]> {
  const { card, ride, ffmpeg, marks, self, signal, onProgress } = source
  const shown = withoutFileName(shownOf(ride))
  const [firstElement, lastElement] = shownElements(shown)
  const clip = await source.clip()
  const clipPath = `${path}.film`
  try {
    const look = {
      longestPx: FILM_SIZES[order.size],
      elements: [firstElement, lastElement] as const,
      drawn: null,
      isSlowed: false,
      title: null,
      hasSound: order.hasSound,
      isFilePace: true,
    }
    const onShareDone = (share: number) => onProgress('Writing the film', 0.7 * share)
    const framesWritten = await writeRideFilm({ clip, ffmpeg, signal, onShareDone }, shown, look, clipPath)
    const film = await probeClip(clipPath, ffmpeg, signal)
    const frames = lastElement - firstElement + 1
    const fault = filmFault(frames, framesWritten, film.video.fileTimesS.length)
    if (fault !== null) throw new OutputProblem(fault)
    const info = {
      format: PACK_FORMAT,
      packId: randomUUID(),
      rideId: ride.id,
      madeAt: new Date().toISOString(),
      program: { version: programVersion },
      handler: { id: self.authorId, name: order.name },
      dogName: card.dogName ?? '',
      title: card.title === '' ? 'Seesaw ride' : card.title,
      film: { firstElement, lastElement, widthPx: clip.video.widthPx, heightPx: clip.video.heightPx },
    } as const
    const picture = pictureOf(ride.record.picture, firstElement, lastElement)
    const { comments, questions, suggestions } = readReview(ride.review)
    const spoken = comments.filter(({ voice }) => voice !== undefined).length
    const detail: PackDetail = {
      card: {
        id: info.packId,
        openedAt: info.madeAt,
        madeAt: info.madeAt,
        student: order.name,
        handlerName: order.name,
        dogName: info.dogName,
        title: info.title,
        questions: questions.length,
        comments: comments.length + suggestions.length,
      },
      packId: info.packId,
      rideId: ride.id,
      handlerId: self.authorId,
      ride: shown.ride,
      film: {
        ptsS: shown.ride.frames.ptsS.slice(firstElement, lastElement + 1),
        picture,
        widthPx: info.film.widthPx,
        heightPx: info.film.heightPx,
      },
      items: ride.review,
    }
    const jpegs: ReviewPageData['frames'][number][] = []
    const step = Math.ceil(frames / MOST_PAGE_FRAMES)
    const wanted = { kind: 'range', firstIndex: 0, lastIndex: frames - 1 } as const
    const jpegLook = { longestPx: FILM_SIZES[order.size], coarseness: PAGE_COARSENESS }
    for await (const { index, jpeg } of frameJpegs(film, ffmpeg, wanted, jpegLook, signal)) {
      if (index % step === 0) jpegs.push({ frame: index, jpeg: jpeg.toString('base64') })
      onProgress('Making the page', 0.7 + (0.25 * (index + 1)) / frames)
    }
    onProgress('Putting the pack together', 0.95)
    const isSilent = film.sound === null
    const contains = [
      `${info.dogName === '' ? 'The ride' : info.dogName} on film: ${frames} frames, ${film.video.widthPx} by ${film.video.heightPx}, ${isSilent ? 'silent' : 'with sound'}; whoever is in the picture${isSilent ? '' : ' or heard'} goes along`,
      'The numbers of the ride, your corrections and your marks on the plank',
      'The title of the ride, the names of the dog and of the handler',
      `${counted(questions.length, 'question')}, ${counted(comments.length + suggestions.length, 'comment')}`,
      ...(spoken === 0 ? [] : [`${counted(spoken, 'spoken comment')}: the voice of whoever spoke goes along`]),
      'A page that shows all this in any browser',
      'Not in it: where, when and with what phone it was filmed, the rest of the clip, other rides',
    ]
    const page = await reviewPage(source.pageFolder, { detail, frames: jpegs })
    const { corrections, review: items } = ride
    await writePack({ info, ride: shown.ride, picture, corrections, marks, items, clipPath, page, contains }, path)
    return contains
  } finally {
    await rm(clipPath, { force: true })
  }
}

/** Phones name a film by the day and the second, so that its name stays at home. */
function withoutFileName(shown: ShownRide): ShownRide {
  const { ride } = shown
  return { ...shown, ride: { ...ride, clip: { ...ride.clip, fileName: PACK_FILES.clip } } }
}

/** Why a film cannot go into a pack, whose every picture must be a measured one: the clip's fault, or the encoder's. */
export function filmFault(frames: number, written: number, there: number): string | null {
  if (written !== frames) return 'Pictures of this ride are missing or damaged in the clip: no pack can be made of it.'
  if (there === frames) return null
  return `This ffmpeg wrote ${there} of ${frames} pictures into the film, so that no pack can be made with it. Your clip is sound: install another ffmpeg, or set TIPHOLD_FFMPEG to the path of one.`
}

/** Of the film's frames alone, numbered as in the film. */
function pictureOf(picture: RidePictureRecord, first: number, last: number): RidePictureRecord {
  const { frameIndex, angleRad, cameraMotion, outlines } = picture
  const part = <T>(all: readonly T[]): readonly T[] => all.slice(first, last + 1)
  return {
    ...picture,
    frameIndex: part(frameIndex).map((_, k) => k),
    angleRad: part(angleRad),
    cameraMotion: part(cameraMotion),
    ...(outlines === undefined ? {} : { outlines: part(outlines) }),
  }
}

function counted(count: number, thing: string): string {
  return count === 1 ? `1 ${thing}` : `${count === 0 ? 'no' : count} ${thing}s`
}
