import type { Estimate } from '../../analysis/estimate.ts'
import { correctRide } from '../../analysis/ride/correct-ride.ts'
import { correctionCount } from '../../analysis/ride/corrections.ts'
import type { Ride } from '../../analysis/ride/ride.ts'
import { unlistedDog, unlistedTrack } from '../contract/listed.ts'
import type { ChartMiniature, RideCard, RideCorrections, RidePictureRecord } from '../contract/rides.ts'
import type { RideRecord } from './library.ts'

/** What a card says of the ride itself; kept with the ride, because it takes the whole record to compute it. */
export type CardValues = Pick<
  RideCard,
  'isCorrected' | 'leaving' | 'up' | 'down' | 'hold' | 'leavingMargin' | 'leadPawAtTip' | 'miniature' | 'filmFrame'
>

/** What a card says of other things, as they are now. */
export type CardNames = Pick<RideCard, 'fileName' | 'takenInAt' | 'dogName' | 'boardName' | 'sample' | 'inClip'>

const corrected = new WeakMap<RideRecord, { readonly corrections: RideCorrections; readonly ride: Ride }>()

/** The ride as it is now: corrected where a person has corrected. The last answer for a record is remembered. */
export function currentRide(record: RideRecord, corrections: RideCorrections): Ride {
  if (correctionCount(corrections) === 0) return record.measured
  const last = corrected.get(record)
  if (last?.corrections === corrections) return last.ride
  const { measured, dog, track, picture } = record
  const parts = { measured, dog: unlistedDog(dog), track: unlistedTrack(track), board: picture.board }
  const ride = correctRide(parts, corrections)
  corrected.set(record, { corrections, ride })
  return ride
}

export function valuesOf(
  ride: Ride,
  { board, frameIndex }: Pick<RidePictureRecord, 'board' | 'frameIndex'>,
  corrections: RideCorrections,
): CardValues {
  const { lengthM, contactM } = board
  const miniature = miniatureOf(ride, { lengthM, contactM })
  return {
    isCorrected: correctionCount(corrections) > 0,
    leaving: ride.leaving.verdict,
    up: ride.zones.up.verdict,
    down: ride.zones.down.verdict,
    hold: ride.measures.holdBeforeGroundS,
    leavingMargin: ride.measures.leavingMarginS,
    leadPawAtTip: ride.measures.leadPawAtTipM,
    miniature,
    filmFrame: filmFrameOf(ride, miniature, frameIndex),
  }
}

function filmFrameOf({ frames: { ptsS } }: Ride, miniature: ChartMiniature, frameIndex: readonly number[]): number {
  const atS = miniature.tipStartS ?? (miniature.fromS + miniature.toS) / 2
  const after = ptsS.findIndex((frameS) => frameS >= atS)
  return frameIndex[after === -1 ? ptsS.length - 1 : after] ?? 0
}

/** Room before the first and after the last thing in a small chart, s. */
const marginS = 0.2

function miniatureOf(ride: Ride, board: Pick<ChartMiniature, 'lengthM' | 'contactM'>): ChartMiniature {
  const { ptsS } = ride.frames
  const { tipStart, grounded, left, firstOn } = ride.events
  const [tipStartS, groundedS, leftS, firstOnS] = [tipStart, grounded, left, firstOn].map(moment)
  const moments = [tipStartS, groundedS, leftS, firstOnS].filter((atS) => atS != null)
  const times = [...moments, ...ride.footfalls.flatMap(({ fromS, toS }) => [fromS, toS])]
  const [startS, endS] = [ptsS[0] ?? 0, ptsS[ptsS.length - 1] ?? 0]
  return {
    ...board,
    fromS: times.length === 0 ? startS : Math.max(startS, rounded(Math.min(...times) - marginS)),
    toS: times.length === 0 ? endS : Math.min(endS, rounded(Math.max(...times) + marginS)),
    footfalls: ride.footfalls.map((footfall) => ({
      limb: footfall.limb,
      alongM: rounded(footfall.alongM),
      fromS: rounded(footfall.fromS),
      toS: rounded(footfall.toS),
      confidence: rounded(footfall.confidence),
    })),
    tipStartS: tipStartS ?? null,
    groundedS: groundedS ?? null,
    leftS: leftS ?? null,
  }
}

function moment(estimate: Estimate): number | null {
  return estimate.kind === 'measured' ? rounded(estimate.value) : null
}

/** To mm and ms: finer than a small chart shows, and ten thousand of them are written at a time. */
function rounded(value: number): number {
  return Math.round(value * 1000) / 1000
}
