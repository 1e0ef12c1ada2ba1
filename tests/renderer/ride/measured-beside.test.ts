import { expect, test } from 'vitest'
import { correctRide } from '../../../analysis/ride/correct-ride.ts'
import { withEvent } from '../../../analysis/ride/corrections.ts'
import { answersOf } from '../../../analysis/words/answers.ts'
import { NO_CORRECTIONS } from '../../../main/contract/rides.ts'
import { measuredBeside } from '../../../renderer/ride/measured-beside.ts'
import { wrenHoldParts } from '../../analysis/ride/wren-hold.ts'

const measured = answersOf(wrenHoldParts.measured, 3.66)

test('only an answer that a correction changed has the measured one beside it', () => {
  const moved = correctRide(wrenHoldParts, withEvent(NO_CORRECTIONS, 'left', { kind: 'at', atS: 4 }))
  const { beside, gone } = measuredBeside(answersOf(moved, 3.66), measured)
  expect(beside.map((answer) => answer?.figure ?? null)).toEqual(['1.04 s', null, null])
  expect(gone).toEqual([])
})

test('an answer that no longer exists is told as measured', () => {
  const never = correctRide(wrenHoldParts, withEvent(NO_CORRECTIONS, 'grounded', { kind: 'did-not-happen' }))
  const { beside, gone } = measuredBeside(answersOf(never, 3.66), measured)
  expect(beside).toEqual([null, null])
  expect(gone.map(({ figure }) => figure)).toEqual(['1.04 s', '0.22 s'])
})

test('an uncorrected ride has nothing beside it', () => {
  expect(measuredBeside(measured, measured)).toEqual({ beside: [null, null, null], gone: [] })
})
