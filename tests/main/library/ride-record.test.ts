import { expect, test } from 'vitest'
import { rideRecordOf } from '../../../main/library/ride-record.ts'
import { plankPicture } from '../../../renderer/viewer/overlay-drawing.ts'
import { sampleMeasured, samplePicture } from '../outputs/report/sample-ride.ts'

test("the dog's outlines are kept with the ride's frames and come back as they were, also as a file", () => {
  const { picture } = rideRecordOf(sampleMeasured)
  const again = JSON.parse(JSON.stringify(picture)) as typeof picture
  expect(again.outlines).toEqual(samplePicture.outlines)
  expect(plankPicture(again, samplePicture.ptsS).outlines).toEqual(samplePicture.outlines)
})
