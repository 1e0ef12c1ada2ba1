import { leadPawIn, type LeadPaw, type StandingFoot } from '../dog/lead-paw.ts'
import { REAR_PAW_SD_M, type Contact, type DogTrack, type Footfall } from '../dog/dog-track.ts'

/**
 * The dog's track once a person has corrected its paw contacts.
 *
 * The lead and the rearmost paw are computed from the feet alone, before and after; only where that differs do the
 * curves change, so that elsewhere they stay as they were measured. The body centre comes from the gait as a whole
 * and stays. First and last contact follow the feet where the first or the last one was corrected.
 *
 * @param dog as measured; @param footfalls as corrected, m along and s, in the order of their first touch
 * @returns the same track when `footfalls` are its own
 */
export function correctedDog(dog: DogTrack, footfalls: readonly Footfall[]): DogTrack {
  const isUnchanged = footfalls.length === dog.footfalls.length && footfalls.every((f, i) => f === dog.footfalls[i])
  if (isUnchanged) return dog
  const { ptsS } = dog
  const before = feetOn(ptsS, dog.footfalls)
  const after = feetOn(ptsS, footfalls)
  const leadPawM = dog.leadPawM.slice()
  const leadPawSdM = dog.leadPawSdM.slice()
  const rearPawM = dog.rearPawM.slice()
  const rearPawSdM = dog.rearPawSdM.slice()
  for (let k = 0; k < ptsS.length; k++) {
    const lead = leadPaw(k, ptsS, after)
    if (!isSamePlace(leadPaw(k, ptsS, before), lead)) {
      leadPawM[k] = lead?.alongM ?? NaN
      leadPawSdM[k] = lead?.sdM ?? NaN
    }
    const rear = rearPaw(k, after)
    if (!isSamePlace(rearPaw(k, before), rear)) {
      rearPawM[k] = rear?.alongM ?? NaN
      rearPawSdM[k] = rear?.sdM ?? NaN
    }
  }
  return { ...dog, leadPawM, leadPawSdM, rearPawM, rearPawSdM, footfalls, ...contacts(dog, footfalls) }
}

/** The frames in which each footfall stands. */
function feetOn(ptsS: Float64Array, footfalls: readonly Footfall[]): StandingFoot[] {
  return footfalls.map(({ alongM, alongSdM, fromS, toS }) => {
    const from = ptsS.findIndex((atS) => atS >= fromS)
    const to = ptsS.findLastIndex((atS) => atS <= toS)
    return { alongM, alongSdM, fromFrame: from < 0 ? ptsS.length : from, toFrame: to }
  })
}

function leadPaw(frame: number, ptsS: Float64Array, feet: readonly StandingFoot[]): LeadPaw | null {
  const last = feet.reduce((latest, foot) => Math.max(latest, foot.toFrame), -1)
  return frame > last + 1 ? null : leadPawIn(frame, ptsS, feet)
}

function rearPaw(frame: number, feet: readonly StandingFoot[]): LeadPaw | null {
  const standing = feet.filter((foot) => foot.fromFrame <= frame && foot.toFrame >= frame)
  if (standing.length === 0) return null
  const rear = standing.reduce((a, b) => (b.alongM < a.alongM ? b : a))
  return { alongM: rear.alongM, sdM: Math.hypot(rear.alongSdM, REAR_PAW_SD_M) }
}

function isSamePlace(a: LeadPaw | null, b: LeadPaw | null): boolean {
  return a?.alongM === b?.alongM && a?.sdM === b?.sdM
}

const NONE_LEFT: Contact = {
  kind: 'not-seen',
  reason: 'hidden',
  detail: 'All paw contacts were removed by hand.',
}

function contacts(
  dog: DogTrack,
  footfalls: readonly Footfall[],
): Pick<DogTrack, 'firstOn' | 'lastOff' | 'stillOnAtEnd' | 'onAtStart'> {
  if (footfalls.length === 0) return { firstOn: NONE_LEFT, lastOff: NONE_LEFT, stillOnAtEnd: false, onAtStart: false }
  const { ptsS } = dog
  const first = earliest(footfalls)
  const last = latest(footfalls)
  const isFirstAsMeasured = dog.footfalls.length > 0 && isSameTouch(earliest(dog.footfalls), first, 'fromS')
  const isLastAsMeasured = dog.footfalls.length > 0 && isSameTouch(latest(dog.footfalls), last, 'toS')
  const stillOnAtEnd = isLastAsMeasured ? dog.stillOnAtEnd : last.toS >= ptsS[ptsS.length - 1]!
  const onAtStart = isFirstAsMeasured ? dog.onAtStart : first.fromS <= ptsS[0]!
  return {
    stillOnAtEnd,
    onAtStart,
    firstOn: isFirstAsMeasured
      ? dog.firstOn
      : onAtStart
        ? { kind: 'not-seen', reason: 'clip-ends', detail: 'A paw is on the plank when the clip begins.' }
        : { kind: 'seen', atS: first.fromS, sdS: first.fromSdS, alongM: first.alongM, alongSdM: first.alongSdM },
    lastOff: isLastAsMeasured
      ? dog.lastOff
      : stillOnAtEnd
        ? { kind: 'not-seen', reason: 'still-on', detail: 'A paw is still on the plank when the clip ends.' }
        : { kind: 'seen', atS: last.toS, sdS: last.toSdS, alongM: last.alongM, alongSdM: last.alongSdM },
  }
}

function earliest(footfalls: readonly Footfall[]): Footfall {
  return footfalls.reduce((a, b) => (b.fromS < a.fromS ? b : a))
}

function latest(footfalls: readonly Footfall[]): Footfall {
  return footfalls.reduce((a, b) => (b.toS > a.toS ? b : a))
}

function isSameTouch(a: Footfall, b: Footfall, side: 'fromS' | 'toS'): boolean {
  return a[side] === b[side] && a.alongM === b.alongM
}
