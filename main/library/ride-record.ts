import { PinholeSeesaw } from '../../analysis/calibration/pinhole-seesaw.ts'
import { listed, numbers } from '../contract/listed.ts'
import type { RidePictureRecord } from '../contract/rides.ts'
import type { MeasuredRide, RidePicture } from '../measuring/measured-ride.ts'
import type { RideRecord } from './library.ts'

/** A measured ride as it is kept: plain lists, and of the calibration only the best camera. */
export function rideRecordOf({ ride, dog, track, picture }: MeasuredRide): RideRecord {
  return { measured: ride, dog: listed(dog), track: listed(track), picture: pictureRecordOf(picture) }
}

function pictureRecordOf({
  board,
  calibration,
  frameIndex,
  angleRad,
  cameraMotion,
  outlines,
  sound,
}: RidePicture): RidePictureRecord {
  const camera = calibration.best
  if (!(camera instanceof PinholeSeesaw)) throw new Error('The ride was measured with a camera that cannot be kept.')
  return {
    board,
    pose: camera.pose,
    exitSide: camera.exitSide,
    misfitPx: calibration.misfitPx,
    frameIndex: [...frameIndex],
    angleRad: numbers(angleRad),
    cameraMotion: cameraMotion.map((motion) => (motion.some(Number.isNaN) ? null : [...motion])),
    outlines,
    sound: sound === null ? null : { startS: sound.startS, rateHz: sound.rateHz, level: [...sound.level] },
  }
}
