import { chartSpan } from '../../../analysis/drawing/chart-span.ts'
import { reviewText } from '../../../analysis/review/review-words.ts'
import { numberRows } from '../../../analysis/words/number-rows.ts'
import { rideName, sentRideName } from '../../../analysis/words/ride-name.ts'
import { verdictCards } from '../../../analysis/words/verdict-cards.ts'
import type { ExportOrder, FilmOverlays } from '../../contract/exports.ts'
import type { RideCard } from '../../contract/rides.ts'
import { jsonText } from '../../files/json-file.ts'
import { writeWholeBytes, writeWholeText } from '../../files/whole-file.ts'
import type { KeptRide } from '../../library/library.ts'
import { LibraryProblem } from '../../library/library-problem.ts'
import { currentRide } from '../../library/ride-card.ts'
import { shownRideOf } from '../../library/ride-record.ts'
import type { ShownRide } from '../../measuring/measured-ride.ts'
import type { MediaFfmpeg, ProbedClip } from '../../film/media/probed-clip.ts'
import type { TitleCard } from '../overlay/title-card.ts'
import { pageHtml } from '../report/page-html.tsx'
import { pagePdf } from '../report/page-pdf.ts'
import { rideMoments } from '../report/ride-moments.ts'
import { ridePage } from '../report/ride-page.tsx'
import { takeStills } from '../report/take-stills.ts'
import { numbersCsv } from './numbers-csv.ts'
import { writeRideFilm } from './ride-film.ts'
import { stillPng } from './still-png.ts'

/** A ride that is saved, with its clip as it was opened. */
export interface RideSource {
  readonly card: RideCard
  readonly ride: KeptRide
  readonly clip: () => Promise<ProbedClip>
  readonly ffmpeg: MediaFfmpeg
  readonly signal: AbortSignal
  readonly onProgress: (doing: string, shareDone: number | null) => void
}

type OrderOf<What extends ExportOrder['what']> = Extract<ExportOrder, { what: What }>

const LONGEST_FILM_PX = 1280

/** What holds now of a kept ride. */
export function shownOf({ record, corrections }: KeptRide): ShownRide {
  return shownRideOf(record, currentRide(record, corrections))
}

export async function writeReport(source: RideSource, isPdf: boolean, path: string): Promise<void> {
  const { card, ride, ffmpeg, signal, onProgress } = source
  onProgress('Taking the pictures', null)
  const shown = shownOf(ride)
  const clip = await source.clip()
  const stills = await takeStills(
    { clip, ffmpeg, signal },
    shown.picture,
    shown.ride.footfalls,
    rideMoments(shown.ride),
  )
  const page = ridePage(shown, stills, { title: rideName(card), review: ride.review })
  onProgress('Writing the report', null)
  await (isPdf ? writeWholeBytes(path, await pagePdf(page)) : writeWholeText(path, pageHtml(page)))
}

export async function writeStill(source: RideSource, { atS, overlays }: OrderOf<'still'>, path: string): Promise<void> {
  const clip = await source.clip()
  const png = await stillPng({ ...source, clip }, shownOf(source.ride), atS, overlays)
  if (png === null) throw new LibraryProblem('unreadable', 'The clip is damaged at this moment: choose another frame.')
  await writeWholeBytes(path, png)
}

export async function writeClip(source: RideSource, order: OrderOf<'clip'>, path: string): Promise<void> {
  const { card, ride, ffmpeg, signal, onProgress } = source
  const shown = shownOf(ride)
  const look = {
    longestPx: LONGEST_FILM_PX,
    elements: shownElements(shown),
    drawn: order.overlays satisfies FilmOverlays,
    isSlowed: order.isSlowed,
    title: order.hasTitle ? titleOf(card, shown) : null,
    hasSound: order.hasSound && !order.hasTitle && shown.ride.clip.slowMotionFactor === 1,
    isFilePace: false,
  }
  const onShareDone = (share: number) => onProgress('Drawing the film', share)
  await writeRideFilm({ clip: await source.clip(), ffmpeg, signal, onShareDone }, shown, look, path)
}

export async function writeNumbers({ ride }: RideSource, isCsv: boolean, path: string): Promise<void> {
  const { ride: now } = shownOf(ride)
  await writeWholeText(path, isCsv ? numbersCsv(now) : jsonText(now))
}

export async function writeComments({ card, ride }: RideSource, path: string): Promise<void> {
  await writeWholeText(path, reviewText(rideName(card), ride.review))
}

/** The frames of a ride that are worth showing: from a moment before the dog gets on to one after it has left. */
export function shownElements({ ride, picture }: ShownRide): readonly [number, number] {
  const [fromS, toS] = chartSpan(ride)
  const first = picture.ptsS.findIndex((s) => s >= fromS - 1e-9)
  const last = picture.ptsS.findLastIndex((s) => s <= toS + 1e-9)
  return [Math.max(0, first), Math.max(first, last)]
}

function titleOf(card: RideCard, { ride, picture }: ShownRide): TitleCard {
  const verdicts = verdictCards(ride).map(({ title, word }): readonly [string, string] => [title, word])
  const numbers = numberRows(ride, picture.board.lengthM).map(({ name, value, margin }): readonly [string, string] => [
    name,
    margin === '' ? value : `${value} ${margin}`,
  ])
  return {
    // Films are said not to tell when they were taken.
    title: sentRideName(card),
    about: card.boardName ?? '',
    rows: [...verdicts, ...numbers],
    foot: 'Measured by Tiphold from a film. The rule book, your judge, coach and vet decide.',
  }
}
