import { describe, expect, test } from 'vitest'
import { measured, withheld } from '../../../analysis/estimate.ts'
import { verdictCards } from '../../../analysis/words/verdict-cards.ts'
import { bailOff, sampleRide } from '../../main/outputs/report/sample-ride.ts'

describe('verdict cards', () => {
  test('say the verdict in a word and give the facts behind it', () => {
    expect(verdictCards(sampleRide).map(({ title, word, sentences }) => [title, word, sentences.join(' ')])).toEqual([
      ['Up contact', 'touched', 'Deepest paw 0.60 m ± 0.04 inside. Paws in it from 1.00 s to 1.40 s.'],
      [
        'Down contact',
        'touched',
        'Deepest paw 0.70 m ± 0.04 inside. Paws in it from 2.30 s to 4.00 s. ' + 'A paw was in it after the landing.',
      ],
      ['Leaving', 'after the landing', 'Left 1.00 s ± 0.03 after the landing.'],
    ])
  })

  test('a missed zone tells how far the nearest paw was', () => {
    const none = withheld('not-seen', 'No paw touched the zone.')
    const down = { verdict: 'missed', first: none, last: none, clearanceM: measured(0.12, 0.02) } as const
    const zones = { ...sampleRide.zones, down: { ...down, touchedAfterGround: 'no' } } as const
    const card = verdictCards({ ...sampleRide, zones })[1]
    expect(card).toMatchObject({ word: 'missed', sentences: ['Nearest paw 0.12 m ± 0.04 outside.'] })
  })

  test.each([
    [-0.3, 'Whether that paw stood there is not sure: look at the frames and judge by eye.'],
    [0.01, 'Too near the border to tell.'],
    [0.3, 'A paw may have touched it unseen: look at the frames and judge by eye.'],
  ])('an unsure zone with its deepest paw at %f m says why', (clearanceM, why) => {
    const up = { ...sampleRide.zones.up, verdict: 'unsure', clearanceM: measured(clearanceM, 0.02) } as const
    const card = verdictCards({ ...sampleRide, zones: { ...sampleRide.zones, up } })[0]
    expect(card?.word).toBe('unsure')
    expect(card?.sentences.at(-1)).toBe(why)
  })

  test('a leaving before the tip is against, without further words', () => {
    expect(verdictCards(bailOff)[2]).toMatchObject({ word: 'before the tip', shape: 'against', sentences: [] })
  })
})
