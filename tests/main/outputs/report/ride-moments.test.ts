import { expect, test } from 'vitest'
import { measured } from '../../../../analysis/estimate.ts'
import type { Ride } from '../../../../analysis/ride/ride.ts'
import { rideMoments } from '../../../../main/outputs/report/ride-moments.ts'
import { bailOff, sampleRide } from './sample-ride.ts'

const captions = (ride: Ride) => rideMoments(ride).map(({ caption }) => caption)

test('pictures of a ride come in the order of time', () => {
  expect(captions(sampleRide)).toEqual(['The board begins to tip', 'The board lands', 'The last paw leaves'])
  const early = { ...sampleRide, events: { ...sampleRide.events, left: measured(2.6, 0.02) } }
  expect(captions(early)).toEqual(['The board begins to tip', 'The last paw leaves', 'The board lands'])
})

test('a bail-off shows the first paw on, as there is no tip', () => {
  expect(captions(bailOff)[0]).toBe('The first paw is on')
})
