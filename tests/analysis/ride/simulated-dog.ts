import type { Contact, DogTrack, Footfall } from '../../../analysis/dog/dog-track.ts'

/** A dog walking over a 3.6 m plank at a steady speed until it stands, followed exactly at 50 frames a second. */
export interface SimulatedWalk {
  readonly onS: number
  readonly speedMps: number
  /** Where the lead paw stops, m; NaN if it never does. */
  readonly stopM: number
  readonly leftS: number
  readonly untilS: number
}

export const STEADY_WALK: SimulatedWalk = { onS: 1, speedMps: 1.5, stopM: 3.4, leftS: 5, untilS: 6 }

/** The dog's lead paw, body and footfalls; feet land every 0.3 m, the first 0.2 m from the entry end. */
export function walkingDog(walk: SimulatedWalk = STEADY_WALK, changes: Partial<DogTrack> = {}): DogTrack {
  const ptsS = Float64Array.from({ length: Math.round(walk.untilS * 50) + 1 }, (_, i) => i / 50)
  const leadAt = (timeS: number): number => {
    const walked = 0.2 + walk.speedMps * (timeS - walk.onS)
    return Number.isNaN(walk.stopM) ? walked : Math.min(walked, walk.stopM)
  }
  const curve = (offsetM: number): Float64Array =>
    ptsS.map((timeS) => (timeS >= walk.onS && timeS <= walk.leftS ? leadAt(timeS) - offsetM : NaN))
  const sd = (sdM: number): Float64Array => ptsS.map(() => sdM)
  return {
    ptsS,
    leadPawM: curve(0),
    leadPawSdM: sd(0.02),
    rearPawM: curve(0.7),
    rearPawSdM: sd(0.02),
    bodyM: curve(0.45),
    bodySdM: sd(0.03),
    footfalls: footfallsOf(walk, leadAt),
    firstOn: seen(walk.onS, 0.2),
    lastOff: seen(walk.leftS, leadAt(walk.leftS)),
    stillOnAtEnd: false,
    onAtStart: false,
    ...changes,
  }
}

export function seen(atS: number, alongM: number): Contact {
  return { kind: 'seen', atS, sdS: 0.01, alongM, alongSdM: 0.02 }
}

export function footfall(alongM: number, fromS: number, toS: number, changes: Partial<Footfall> = {}): Footfall {
  return {
    alongM,
    alongSdM: 0.02,
    fromS,
    fromSdS: 0.01,
    toS,
    toSdS: 0.01,
    limb: 'front',
    confidence: 0.98,
    ...changes,
  }
}

function footfallsOf(walk: SimulatedWalk, leadAt: (timeS: number) => number): Footfall[] {
  const feet: Footfall[] = []
  const stepS = 0.3 / walk.speedMps
  for (let fromS = walk.onS; fromS < walk.leftS; fromS += stepS) {
    const stands = leadAt(fromS + stepS) === leadAt(fromS)
    feet.push(footfall(leadAt(fromS), fromS, stands ? walk.leftS : Math.min(fromS + stepS, walk.leftS)))
    if (stands) break
  }
  return feet
}
