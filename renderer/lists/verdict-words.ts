import type { Estimate } from '../../analysis/estimate.ts'
import type { RideCard } from '../../main/contract/rides.ts'

export interface VerdictInWords {
  readonly tone: 'good' | 'bad' | 'unsure'
  readonly words: string
}

/** What a handler asks first of a ride in a list: when the dog left, with the margin where it is known. */
export function leavingInWords({
  leaving,
  leavingMargin,
}: Pick<RideCard, 'leaving' | 'leavingMargin'>): VerdictInWords {
  switch (leaving) {
    case 'after-ground':
      return { tone: 'good', words: afterGround(leavingMargin) }
    case 'before-ground':
      return { tone: 'bad', words: `Left before the landing${by(leavingMargin)}` }
    case 'before-tip':
      return { tone: 'bad', words: 'Left before the board tipped' }
    case 'too-close':
      return { tone: 'unsure', words: 'Left at the landing, too close to call' }
    case 'not-seen':
      return { tone: 'unsure', words: 'Exit not seen' }
  }
}

function afterGround(margin: Estimate): string {
  switch (margin.kind) {
    case 'measured':
      return `Left ${margin.value.toFixed(2)} s after the landing`
    case 'atLeast':
      return `Still on ${margin.value.toFixed(2)} s after the landing`
    case 'withheld':
      return 'Left after the landing'
  }
}

function by(margin: Estimate): string {
  return margin.kind === 'measured' ? `, by ${Math.abs(margin.value).toFixed(2)} s` : ''
}

/** "held 0.42 s before it"; null where there is nothing to say. */
export function holdInWords(hold: Estimate): string | null {
  switch (hold.kind) {
    case 'measured':
      return `held ${hold.value.toFixed(2)} s before it landed`
    case 'atLeast':
      return `held at least ${hold.value.toFixed(2)} s before it landed`
    case 'withheld':
      return null
  }
}

/** "Up contact missed" and the like; nothing where both were touched. */
export function zonesInWords({ up, down }: Pick<RideCard, 'up' | 'down'>): readonly VerdictInWords[] {
  return [
    { verdict: up, zone: 'up contact' },
    { verdict: down, zone: 'down contact' },
  ].flatMap(({ verdict, zone }): readonly VerdictInWords[] => {
    switch (verdict) {
      case 'touched':
        return []
      case 'missed':
        return [{ tone: 'bad', words: `Missed the ${zone}` }]
      case 'unsure':
        return [{ tone: 'unsure', words: `Unsure: ${zone}` }]
    }
  })
}

/** "14 June 2026, 18:20", in the way of the handler's own system. */
export function momentInWords(iso: string): string {
  return new Intl.DateTimeFormat(undefined, { dateStyle: 'long', timeStyle: 'short' }).format(new Date(iso))
}

/** "14 June 2026", in the way of the handler's own system. */
export function dayInWords(iso: string): string {
  // A day without an hour is the same one in every time zone.
  const at = iso.length === 10 ? `${iso}T12:00` : iso
  return new Intl.DateTimeFormat(undefined, { day: 'numeric', month: 'long', year: 'numeric' }).format(new Date(at))
}

/** The day of the ride where the film or a person tells it, else when its clip came in. */
export function whenInWords({ session, takenInAt }: Pick<RideCard, 'session' | 'takenInAt'>): string {
  const show = session.purpose === 'show' ? ', show' : ''
  return `${session.day === null ? `added ${momentInWords(takenInAt)}` : dayInWords(session.day)}${show}`
}
