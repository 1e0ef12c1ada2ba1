import { ApproachWatch } from '../../analysis/approach/approach-watch.ts'
import { seesawCameraFollower, type BusyStretch } from '../../analysis/scene/watch.ts'
import { PlankFilmMaker } from '../../analysis/follow/plank-film-maker.ts'
import { Lookout } from '../../analysis/silhouette/lookout.ts'
import { streamFrames } from '../film/media/stream-frames.ts'
import type { OnProgress } from './measured-ride.ts'
import type { OpenedClip } from './open-clip.ts'

/** Follows camera, board and the band along the plank through one stretch, every frame; looks out for a dog and its approach if asked to. */
export async function followStretch(
  opened: OpenedClip,
  stretch: BusyStretch,
  signal: AbortSignal,
  onProgress: OnProgress,
  looksOut: boolean,
): Promise<PlankFilmMaker> {
  const { clip, ffmpeg, slowMotionFactor, calibration, reference, scene, view } = opened
  const camera = calibration.best
  const cameraFollower = seesawCameraFollower(reference, camera, clip.video)
  const nearest = opened.scene.stills.reduce<(typeof scene.stills)[number] | null>(
    (a, b) => (a === null || Math.abs(b.frame.ptsS - stretch.fromS) < Math.abs(a.frame.ptsS - stretch.fromS) ? b : a),
    null,
  )
  if (nearest !== null) cameraFollower.startFrom(nearest.frameFromReference)
  const lookout = looksOut ? new Lookout(camera, scene) : null
  const approachWatch = looksOut ? new ApproachWatch(camera, scene) : null
  const startAngleRad = nearest?.angleRad ?? camera.restAngleRad
  const maker = new PlankFilmMaker(camera, scene, cameraFollower, startAngleRad, lookout, approachWatch)
  const times = clip.video.fileTimesS
  const total = times.filter((t) => t / slowMotionFactor >= stretch.fromS && t / slowMotionFactor <= stretch.toS).length
  let done = 0
  for await (const frame of streamFrames(clip, ffmpeg, { ...stretch, slowMotionFactor, view, signal })) {
    maker.add(frame)
    onProgress({
      step: 'following',
      doing: 'following the board and the dog',
      framesDone: ++done,
      framesTotal: Math.max(total, done),
    })
  }
  return maker
}
