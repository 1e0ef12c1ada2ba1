import { PinholeSeesaw } from '../../analysis/calibration/pinhole-seesaw.ts'
import { listed, numbers } from '../contract/listed.ts'
import type { RidePictureRecord } from '../contract/rides.ts'
import type { Ride } from '../../analysis/ride/ride.ts'
import type { MeasuredRide, RidePicture, ShownRide } from '../measuring/measured-ride.ts'
import type { RideRecord } from './library.ts'

/** A measured ride as it is kept: plain lists, and of the calibration only the best camera. */
export function rideRecordOf({ ride, dog, track, picture }: MeasuredRide): RideRecord {
  return { measured: ride, dog: listed(dog), track: listed(track), picture: pictureRecordOf(picture) }
}

const UNKNOWN_MOTION = new Float64Array(9).fill(NaN)

/** A kept ride as reports and films show it: `ride` is what holds now. */
export function shownRideOf({ picture }: Pick<RideRecord, 'picture'>, ride: Ride): ShownRide {
  const { board, pose, exitSide, frameIndex, angleRad, cameraMotion, outlines, sound } = picture
  return {
    ride,
    picture: {
      board,
      calibration: { best: new PinholeSeesaw(pose, board, exitSide) },
      frameIndex: Int32Array.from(frameIndex),
      ptsS: Float64Array.from(ride.frames.ptsS),
      angleRad: Float64Array.from(angleRad, (rad) => rad ?? NaN),
      cameraMotion: cameraMotion.map((motion) => (motion === null ? UNKNOWN_MOTION : Float64Array.from(motion))),
      outlines: outlines ?? frameIndex.map(() => null),
      sound: sound === null ? null : { ...sound, level: Float32Array.from(sound.level) },
    },
  }
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
