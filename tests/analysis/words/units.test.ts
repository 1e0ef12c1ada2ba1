import { describe, expect, test } from 'vitest'
import { measured } from '../../../analysis/estimate.ts'
import { answersOf, answerText } from '../../../analysis/words/answers.ts'
import { inUnit, placeInWords, placeMarginInWords, quantityInWords } from '../../../analysis/words/in-words.ts'
import { numberRows } from '../../../analysis/words/number-rows.ts'
import { lengthDisplay, smallLengthDisplay, speedDisplay } from '../../../analysis/words/units.ts'
import { verdictCards } from '../../../analysis/words/verdict-cards.ts'
import { sampleRide } from '../../main/outputs/report/sample-ride.ts'

describe('imperial units', () => {
  test('are inches of 25.4 mm and feet of 304.8 mm', () => {
    // International yard and pound agreement of 1959: one inch is 25.4 mm exactly.
    expect(quantityInWords(0.254, lengthDisplay('imperial'))).toBe('10.0 in')
    expect(quantityInWords(0.0127, smallLengthDisplay('imperial'))).toBe('0.50 in')
    expect(quantityInWords(3.048, speedDisplay('imperial'))).toBe('10.0 ft/s')
  })

  test('scale an interval with its value', () => {
    const { value, sd, ci95 } = inUnit(measured(0.508, 0.0254), lengthDisplay('imperial'))
    expect([value, sd, ...ci95].map((n) => Number(n.toFixed(3)))).toEqual([20, 1, 18.04, 21.96])
  })

  test('tell places, answers, verdicts and all numbers, and leave seconds alone', () => {
    expect(placeInWords(2.7, 3.66, 'imperial')).toBe('34.3 in past the pivot')
    expect(placeMarginInWords(measured(2.7, 0.0254), 3.66, 'imperial')).toBe('± 2.0')
    expect(answersOf(sampleRide, 3.66, 'imperial').map(answerText).at(-1)).toBe(
      'The board began to tip with the lead paw 34.3 in ± 1.2 past the pivot. ' +
        'The body centre was 14.6 in ± 2.3 past the pivot.',
    )
    expect(verdictCards(sampleRide, 'imperial')[0]!.sentences[0]).toBe('Deepest paw 23.6 in ± 1.5 inside.')
    const rows = Object.fromEntries(numberRows(sampleRide, 3.66, 'imperial').map(({ name, value }) => [name, value]))
    expect(rows['Bounce of the exit end']).toBe('0.47 in')
    expect(rows['Speed from the entry end to the pivot']).toBe('6.2 ft/s')
    expect(rows['Hold before the landing']).toBe('0.50 s')
  })
})
