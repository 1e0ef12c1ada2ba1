import type { Scenario } from '../scenario.ts'
import { plankFromWorld, worldFromPlank } from './board-place.ts'
import { isFore } from './dog-frame.ts'
import { instantAt, type Instant, type Recording } from './recording.ts'
import { centreOf } from './trunk.ts'

const TOUCH_M = 0.015
const TIP_DROP_M = 0.01
const NEVER_LANDED_DROP_M = 0.05
const SETTLE_M = 0.1

/** A paw against the plank: along, height of the sole over the top surface, z across, and whether it touches. */
export interface PawTruth {
  readonly s: number
  readonly height: number
  readonly lateral: number
  readonly touching: boolean
}

export function pawTruth(scenario: Scenario, instant: Instant, paw: number): PawTruth {
  const { board } = scenario
  const p = instant.dog!.paws[paw]!
  const { alongM, aboveM } = plankFromWorld(board, instant.board, p)
  const inside = alongM >= 0 && alongM <= board.lengthM && Math.abs(p[2]) <= board.widthM / 2
  return { s: alongM, height: aboveM, lateral: p[2], touching: inside && Math.abs(aboveM) <= TOUCH_M }
}

/** Height of the exit end's top corner over the ground. */
const exitTopM = (scenario: Scenario, instant: Instant): number =>
  worldFromPlank(scenario.board, instant.board, scenario.board.lengthM, 0, 0)[1]

export interface BoardEvents {
  readonly tipStartS: number | null
  readonly groundedS: number | null
}

/** Tip and landing before the clip's end; the tip between the recorded milliseconds by straight lines. */
export function boardEvents(scenario: Scenario, recording: Recording, endS: number): BoardEvents {
  const { instants, stepS } = recording
  const groundedS = recording.groundedS !== null && recording.groundedS <= endS ? recording.groundedS : null
  const restM = exitTopM(scenario, instants[0]!)
  const drops = instants.slice(0, Math.floor((groundedS ?? endS) / stepS) + 1).map((i) => restM - exitTopM(scenario, i))
  const crossings: number[] = []
  for (let i = 1; i < drops.length; i++) if (drops[i - 1]! < TIP_DROP_M && drops[i]! >= TIP_DROP_M) crossings.push(i)
  const i = groundedS === null ? crossings.find((at) => dropsFurther(drops, at)) : crossings.at(-1)
  const tipStartS =
    i === undefined ? null : (i - 1 + (TIP_DROP_M - drops[i - 1]!) / (drops[i]! - drops[i - 1]!)) * stepS
  return { tipStartS, groundedS }
}

/** Whether the end goes on to 50 mm before it comes back above the tip mark. */
function dropsFurther(drops: readonly number[], from: number): boolean {
  for (let i = from; i < drops.length && drops[i]! >= TIP_DROP_M; i++) if (drops[i]! > NEVER_LANDED_DROP_M) return true
  return false
}

export interface RideEvents extends BoardEvents {
  readonly firstOnS: number | null
  readonly leftPlankS: number | null
  readonly stillOnAtEnd: boolean
  readonly settleS: number | null
  readonly advancingAtGround: boolean | null
  readonly leadPawAtTipM: number | null
  readonly leadPlantedPawAtTipM: number | null
  readonly bodyCentreAtTipM: number | null
  readonly zones: { readonly up: ZoneTruth; readonly down: ZoneTruth }
}

export interface ZoneTruth {
  readonly touched: boolean
  readonly firstS: number | null
  readonly lastS: number | null
}

/** All events of a ride as the vocabulary of measures defines them, up to the clip's last frame. */
export function rideEvents(scenario: Scenario, recording: Recording, endS: number): RideEvents {
  const { stepS } = recording
  const instants = recording.instants.slice(0, Math.floor(endS / stepS) + 1)
  const board = boardEvents(scenario, recording, endS)
  const paws = instants.map((instant) => [0, 1, 2, 3].map((paw) => pawTruth(scenario, instant, paw)))
  const touching = paws.map((four) => four.some((p) => p.touching))
  const firstOn = touching.indexOf(true)
  const lastOn = touching.lastIndexOf(true)
  const stillOnAtEnd = lastOn >= 0 && lastOn >= instants.length - 2
  const leftPlankS = lastOn < 0 || stillOnAtEnd ? null : lastOn * stepS
  const lead = paws.map((four) => Math.max(four[0]!.s, four[1]!.s))
  const { tipStartS, groundedS } = board
  const early = groundedS === null || (leftPlankS !== null && leftPlankS < groundedS)
  let settleS: number | null = null
  let advancingAtGround: boolean | null = null
  if (groundedS !== null && !early) {
    const at = Math.round(groundedS / stepS)
    let i = at
    while (i > 0 && Math.abs(lead[i - 1]! - lead[at]!) <= SETTLE_M) i--
    settleS = i * stepS
    advancingAtGround = instants[at]!.dog!.speedMps > 0.3
  }
  return {
    ...board,
    firstOnS: firstOn < 0 ? null : firstOn * stepS,
    leftPlankS,
    stillOnAtEnd,
    settleS,
    advancingAtGround,
    ...atTip(scenario, recording, paws, tipStartS),
    zones: {
      up: zone(paws, stepS, (s) => s <= scenario.board.contactM),
      down: zone(paws, stepS, (s) => s >= scenario.board.lengthM - scenario.board.contactM),
    },
  }
}

function atTip(
  scenario: Scenario,
  recording: Recording,
  paws: readonly (readonly PawTruth[])[],
  tipStartS: number | null,
) {
  if (tipStartS === null) return { leadPawAtTipM: null, leadPlantedPawAtTipM: null, bodyCentreAtTipM: null }
  const instant = instantAt(recording, tipStartS)
  const fore = [0, 1, 2, 3].filter(isFore)
  const centre = plankFromWorld(scenario.board, instant.board, centreOf(instant.dog!.trunk))
  let i = Math.round(tipStartS / recording.stepS)
  while (i > 0 && !fore.some((p) => paws[i]![p]!.touching)) i--
  const planted = fore.filter((p) => paws[i]![p]!.touching).map((p) => paws[i]![p]!.s)
  return {
    leadPawAtTipM: Math.max(...fore.map((p) => pawTruth(scenario, instant, p).s)),
    leadPlantedPawAtTipM: planted.length ? Math.max(...planted) : null,
    bodyCentreAtTipM: centre.alongM,
  }
}

function zone(paws: readonly (readonly PawTruth[])[], stepS: number, inside: (s: number) => boolean): ZoneTruth {
  const touched = paws.map((four) => four.some((p) => p.touching && inside(p.s)))
  const first = touched.indexOf(true)
  return {
    touched: first >= 0,
    firstS: first < 0 ? null : first * stepS,
    lastS: first < 0 ? null : touched.lastIndexOf(true) * stepS,
  }
}
