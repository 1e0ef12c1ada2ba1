import { describe, expect, test } from 'vitest'
import { withheld } from '../../../../analysis/estimate.ts'
import type { Ride } from '../../../../analysis/ride/ride.ts'
import { frameDrawing } from '../../../../analysis/drawing/frame-drawing.ts'
import { dropPage } from '../../../../main/outputs/report/drop-page.tsx'
import { pageHtml } from '../../../../main/outputs/report/page-html.tsx'
import { ridePage } from '../../../../main/outputs/report/ride-page.tsx'
import type { Still } from '../../../../main/outputs/report/take-stills.ts'
import { bailOff, sampleBoard, sampleDrop, sampleMeasured, samplePicture, sampleRide } from './sample-ride.ts'

const still: Still = {
  caption: 'The board begins to tip',
  ptsS: 2,
  frameIndex: 20,
  boardAngleDeg: -18.1,
  jpeg: Uint8Array.of(0xff, 0xd8, 0xff),
  view: { widthPx: 320, heightPx: 180, originXPx: 0, originYPx: 0, scale: 1 },
  drawing: frameDrawing(samplePicture, 20, sampleRide.footfalls),
}
const pageOf = (ride: Ride) => pageHtml(ridePage({ ...sampleMeasured, ride }, [still]))
const withoutTags = (html: string) =>
  html
    .replace(/<style>.*?<\/style>/s, '')
    .replace(/<[^>]+>/g, ' ')
    .replaceAll('&#x27;', "'")
    .replace(/\s+/g, ' ')

describe('the ride page', () => {
  const html = pageOf(sampleRide)

  test('needs nothing from outside and no script', () => {
    expect(html).not.toMatch(/https?:|<script|<link|@import|url\((?!#|data:)/)
    expect(html.match(/(href|src)="(?!data:image\/jpeg;base64,|#)/g)).toBeNull()
  })

  test('has the answers, the verdicts, the numbers, the cautions and the clip', () => {
    const text = withoutTags(html)
    expect(text).toContain('0.87 m past the pivot')
    expect(text).toContain('Up contact touched')
    expect(text).toContain('Fall, from tip to landing 1.00 s ± 0.01')
    expect(text).toContain('The judge and your rule book decide.')
    expect(text).toContain('biscuit.mp4, 320 × 180, 51 frames in 5.10 s, filmed at 10 frames a second')
    expect(text).toContain('Tiphold 0.1.0')
  })

  test('tells once what was not measured and why', () => {
    const text = withoutTags(html)
    const why = 'The approach is outside the picture: film from two steps further back.'
    expect(text).toContain(`The speed on the approach ${why}`)
    expect(text.split(why)).toHaveLength(2)
  })

  test('has all events of the ride on its chart and leaves out the withheld ones', () => {
    const words = (page: string) => [...page.matchAll(/class="chart-event-word"[^>]*>(\w+)</g)].map(([, word]) => word)
    expect(words(html)).toEqual(['on', 'tip', 'hold', 'landed', 'off'])
    expect(words(pageOf(bailOff))).toEqual(['on', 'off'])
  })

  test('draws front paws and hind paws as different bars', () => {
    expect(html.match(/class="chart-paw front"/g)).toHaveLength(1 + 3)
    expect(html.match(/class="chart-paw hind"/g)).toHaveLength(1 + 1)
  })

  test('has the picture with the plank drawn on it', () => {
    expect(html).toContain('href="data:image/jpeg;base64,/9j/"')
    expect(html.match(/class="overlay-zone"/g)).toHaveLength(1)
    expect(html.match(/class="overlay-paw front"/g)).toHaveLength(1)
  })

  test('can be written for a clip of which almost nothing is known', () => {
    const no = withheld('hidden', 'The dog was hidden.')
    const { measures, events, zones } = sampleRide
    const all = <T extends object>(values: T) => Object.fromEntries(Object.keys(values).map((key) => [key, no]))
    const unknown = {
      ...sampleRide,
      events: all(events),
      measures: { ...all(measures), pauses: [], turnedBack: false },
      zones: {
        up: { ...all(zones.up), verdict: 'unsure' },
        down: { ...all(zones.down), verdict: 'unsure', touchedAfterGround: 'unsure' },
      },
      leaving: { verdict: 'not-seen' },
      footfalls: [],
      frames: { ptsS: [], boardAngleDeg: [], leadPawM: [], rearPawM: [], bodyM: [] },
    } as unknown as Ride
    const page = pageHtml(
      ridePage({ ...sampleMeasured, ride: unknown, picture: { ...samplePicture, sound: null } }, []),
    )
    expect(withoutTags(page)).toContain('The clip has no sound.')
    expect(page).not.toMatch(/NaN|undefined|Infinity/)
  })

  test('shows a file name as text, whatever it is', () => {
    const clip = { ...sampleRide.clip, fileName: '<script>alert(1)</script>.mp4' }
    expect(pageOf({ ...sampleRide, clip })).not.toContain('<script')
  })
})

describe('the drop-test page', () => {
  const no = withheld('not-measured-yet', 'Not in this version yet.')
  const physics = { inertiaKgM2: no, biasTorqueNm: no, coulombNm: no, viscousNms: no }
  const pageFor = (drop: typeof sampleDrop) =>
    pageHtml(
      dropPage(
        {
          schema: 'tiphold.droptest/1',
          boardFrom: 'file',
          program: { version: '0.1.0' },
          drops: [drop],
          repeats: [],
          physics,
        },
        sampleBoard,
        [],
      ),
    )

  test('says how long the fall took, and with which weight where', () => {
    const text = withoutTags(pageFor(sampleDrop))
    expect(text).toContain('From placing the weight to the landing it took 2.50 s ± 0.04.')
    expect(text).toContain('weight.mp4: 1.00 kg, 1.38 m past the pivot')
  })

  test('says that a board did not move', () => {
    const text = withoutTags(pageFor({ ...sampleDrop, moved: false }))
    expect(text).toContain('Under the weight the board did not move.')
    expect(text).not.toContain('it took')
  })
})
