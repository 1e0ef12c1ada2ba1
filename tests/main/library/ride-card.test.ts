import { expect, test } from 'vitest'
import { measured, withheld } from '../../../analysis/estimate.ts'
import { NO_CORRECTIONS } from '../../../main/contract/rides.ts'
import { currentRide, valuesOf } from '../../../main/library/ride-card.ts'
import { bailOff, sampleRide } from '../outputs/report/sample-ride.ts'
import { cardOf, meadowRide } from './things.ts'

const names = {
  fileName: 'meadow.mp4',
  takenInAt: '2026-05-03',
  dogName: 'Juno',
  boardName: null,
  sample: null,
  inClip: { ride: 1, of: 1 },
}
const board = { lengthM: 3.66, contactM: 0.9 }
const picture = {
  board: meadowRide.record.picture.board,
  // The stretch begins at frame 300 of the clip.
  frameIndex: sampleRide.frames.ptsS.map((_, k) => 300 + k),
}

test('a card tells what was measured, and the names that it is given', () => {
  expect(cardOf(meadowRide, names)).toMatchObject({
    id: 'ride-1',
    clipId: 'meadow',
    title: 'Second run',
    fileName: 'meadow.mp4',
    dogName: 'Juno',
    isCorrected: false,
    leaving: 'after-ground',
    up: 'touched',
    down: 'touched',
    hold: measured(0.5, 0.015),
    leavingMargin: measured(1, 0.015),
    leadPawAtTip: measured(2.7, 0.015),
  })
})

test('the small chart reaches from just before the dog to just after it', () => {
  const { miniature } = valuesOf(sampleRide, picture, NO_CORRECTIONS)
  expect(miniature).toMatchObject({ ...board, fromS: 0.8, toS: 4.2, tipStartS: 2, groundedS: 3, leftS: 4 })
  expect(miniature.footfalls).toEqual(sampleRide.footfalls)
})

test('the small chart shows no event that did not happen', () => {
  expect(valuesOf(bailOff, picture, NO_CORRECTIONS).miniature).toMatchObject({ tipStartS: null, groundedS: null })
})

test('the small chart of a ride without anything on it is as long as the ride', () => {
  const no = withheld('not-seen', 'Not seen.')
  const { events } = sampleRide
  const empty = {
    ...sampleRide,
    footfalls: [],
    events: { ...events, firstOn: no, tipStart: no, grounded: no, left: no },
  }
  expect(valuesOf(empty, picture, NO_CORRECTIONS).miniature).toMatchObject({ fromS: 0, toS: 5, footfalls: [] })
})

test('a ride that nobody corrected is the measured one itself', () => {
  expect(currentRide(meadowRide.record, NO_CORRECTIONS)).toBe(meadowRide.record.measured)
})

test('a corrected card tells the corrected values', () => {
  const corrections = { ...NO_CORRECTIONS, zones: { down: 'missed' as const } }
  expect(cardOf({ ...meadowRide, corrections }, names)).toMatchObject({ isCorrected: true, down: 'missed' })
})

test('the frame that stands for a ride is the one in which the board begins to tip, of the clip and not of the part', () => {
  const { ptsS } = sampleRide.frames
  const { filmFrame } = valuesOf(sampleRide, picture, NO_CORRECTIONS)
  expect(ptsS[filmFrame - 300]).toBeGreaterThanOrEqual(2)
  expect(ptsS[filmFrame - 301]).toBeLessThan(2)
})
