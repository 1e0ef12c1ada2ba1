import { mergedReviews } from '../../analysis/review/merge-reviews.ts'
import type { ReviewItem } from '../../analysis/review/review-item.ts'
import { reviewTexts } from '../../analysis/review/review-words.ts'
import type { Removed } from '../contract/bin.ts'
import type { RideCard } from '../contract/rides.ts'
import type { RideSession } from '../contract/sessions.ts'
import type { CardShelf } from './card-shelf.ts'
import { isId, type Kept } from './kept-files.ts'
import type { KeptRide, RideRecord, RideShelf } from './library.ts'
import { LibraryProblem } from './library-problem.ts'
import { RecentRecords } from './recent-records.ts'
import { type CardNames, type CardValues, currentRide, valuesOf } from './ride-card.ts'

/** A ride as its card file holds it: everything but the record, and what the lists show of it. */
export type RideOnDisk = Omit<KeptRide, 'record' | 'review'> & {
  /** Absent where nothing was ever said of it. */
  readonly review?: KeptRide['review']
  /** For when the clip is no longer there. */
  readonly fileName: string
  readonly values: Omit<CardValues, 'filmFrame'> & Partial<Pick<CardValues, 'filmFrame'>>
}

/** What lists tell of other things than the ride. */
export interface Naming {
  clip(id: string): Pick<CardNames, 'fileName' | 'takenInAt' | 'sample'> | null
  dogName(id: string): string | null
  boardName(id: string): string | null
}

/** Rides: cards in memory, records on the disk. */
export class KeptRides implements RideShelf {
  readonly #cards: CardShelf<RideOnDisk>
  readonly #naming: Naming
  readonly #records: RecentRecords
  #list: readonly RideCard[] | null = null

  constructor(cards: CardShelf<RideOnDisk>, naming: Naming) {
    this.#cards = cards
    this.#naming = naming
    this.#records = new RecentRecords(async (id, part) => (await cards.files.readPart(id, part)) as RideRecord)
  }

  cards(): readonly RideCard[] {
    if (this.#list !== null) return this.#list
    const places = placesInClips(this.#cards.kept())
    this.#list = this.#cards
      .kept()
      .map((kept) => ({ card: this.#cardOf(kept, places), addedAt: kept.addedAt }))
      .sort(
        (a, b) =>
          order(dayOf(b.card), dayOf(a.card)) || order(b.card.takenInAt, a.card.takenInAt) || b.addedAt - a.addedAt,
      )
      .map(({ card }) => card)
    return this.#list
  }

  /** After anything was changed that cards name. */
  forget(): void {
    this.#list = null
  }

  async get(id: string): Promise<KeptRide | null> {
    const kept = this.#cards.keptOf(id)
    if (kept === null) return null
    const { clipId, title, note, session, corrections, review = [] } = kept.card
    return {
      id,
      clipId,
      title,
      note,
      session,
      corrections,
      review,
      ...this.#stillThere(kept.card),
      record: await this.#recordOf(kept),
    }
  }

  async put(ride: KeptRide): Promise<void> {
    const { record, ...said } = ride
    const fileName = record.measured.clip.fileName
    const card = { ...said, fileName, values: valuesFrom(record, ride) }
    await this.#cards.change(ride.id, () => Promise.resolve({ card, part: record }))
  }

  async measureAgain(...[id, record, boardId, titleIfNone, over]: Parameters<RideShelf['measureAgain']>) {
    let isThere = false
    await this.#cards.change(id, async (before) => {
      if (before === null) return null
      isThere = true
      const old = await this.#recordOf(before).catch(() => null)
      const { title } = before.card
      const said = { boardId, title: title === '' ? titleIfNone : title }
      const ride = { ...before.card, ...said, corrections: over(record, old, before.card.corrections) }
      const fileName = record.measured.clip.fileName
      return { card: { ...ride, fileName, values: valuesFrom(record, ride) }, part: record }
    })
    return isThere
  }

  async change(...[id, change, check]: Parameters<RideShelf['change']>): Promise<void> {
    const gone = new LibraryProblem('not-found', 'This ride is no longer in the library: go back to the list.')
    if (!isId(id)) throw gone
    await this.#cards.change(id, async (before) => {
      if (before === null) throw gone
      // A removed dog is not told, so that not to tell it is no change: it may be put back.
      const isDogAsBefore =
        change.dogId === undefined || (change.dogId === null && this.#stillThere(before.card).dogId === null)
      const dogId = isDogAsBefore ? before.card.dogId : (change.dogId ?? null)
      const card = { ...before.card, ...change, dogId }
      if (change.corrections === undefined) return { card, part: null }
      const record = await this.#recordOf(before)
      check?.(record)
      return { card: { ...card, values: valuesFrom(record, card) }, part: null }
    })
  }

  version(id: string): object | null {
    return this.#cards.keptOf(id)
  }

  async changeSession(id: string, to: (now: RideSession) => RideSession, dogId?: string): Promise<boolean> {
    const changed = await this.#cards.update(id, (now) => ({
      ...now,
      session: to(now.session),
      ...(dogId === undefined ? {} : { dogId }),
    }))
    return changed !== null
  }

  async review(id: string, items: readonly ReviewItem[]): Promise<void> {
    const gone = new LibraryProblem('not-found', 'This ride is no longer in the library: go back to the list.')
    if (!isId(id)) throw gone
    await this.#cards.change(id, (before) => {
      if (before === null) throw gone
      const { card } = before
      return Promise.resolve({ card: { ...card, review: mergedReviews(card.review ?? [], items) }, part: null })
    })
  }

  remove(id: string): Promise<Removed | null> {
    return this.#cards.remove(id)
  }

  #cardOf({ card, addedAt }: Kept<RideOnDisk>, places: ReadonlyMap<string, RideCard['inClip']>): RideCard {
    const { id, clipId, title, note, session, values } = card
    const { dogId, boardId } = this.#stillThere(card)
    const clip = this.#naming.clip(clipId)
    return {
      id,
      clipId,
      title,
      note,
      session,
      ...values,
      filmFrame: values.filmFrame ?? 0,
      inClip: places.get(id) ?? { ride: 1, of: 1 },
      comments: reviewTexts(card.review ?? []),
      dogId,
      boardId,
      dogName: dogId === null ? null : this.#naming.dogName(dogId),
      boardName: boardId === null ? null : this.#naming.boardName(boardId),
      fileName: clip?.fileName ?? card.fileName,
      takenInAt: clip?.takenInAt ?? new Date(addedAt).toISOString(),
      sample: clip?.sample ?? null,
    }
  }

  /** A ride keeps the id of a removed dog or board, which is never given again, and no longer tells it. */
  #stillThere({ dogId, boardId }: RideOnDisk): Pick<KeptRide, 'dogId' | 'boardId'> {
    return {
      dogId: dogId !== null && this.#naming.dogName(dogId) !== null ? dogId : null,
      boardId: boardId !== null && this.#naming.boardName(boardId) !== null ? boardId : null,
    }
  }

  async #recordOf({ card, part }: Kept<RideOnDisk>): Promise<RideRecord> {
    try {
      return await this.#records.get(card.id, part ?? '')
    } catch {
      const advice = 'measure its clip again, then remove this ride'
      throw new LibraryProblem('failed', `The measured data of this ride cannot be read: ${advice}.`)
    }
  }
}

function valuesFrom(record: RideRecord, { corrections }: Pick<KeptRide, 'corrections'>): CardValues {
  return valuesOf(currentRide(record, corrections), record.picture, corrections)
}

/** Which ride of its clip each is, in order of time. */
function placesInClips(rides: readonly Kept<RideOnDisk>[]): ReadonlyMap<string, RideCard['inClip']> {
  const ofClips = new Map<string, RideOnDisk[]>()
  for (const { card } of rides) ofClips.set(card.clipId, [...(ofClips.get(card.clipId) ?? []), card])
  return new Map(
    [...ofClips.values()].flatMap((ofClip) =>
      ofClip
        .toSorted((a, b) => a.values.miniature.fromS - b.values.miniature.fromS)
        .map(({ id }, k) => [id, { ride: k + 1, of: ofClip.length }] as const),
    ),
  )
}

/** The day of the ride or, where nobody knows it, that of the import. */
function dayOf({ session, takenInAt }: RideCard): string {
  return session.day ?? takenInAt.slice(0, 10)
}

function order(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0
}
