import type { Camera, Pose } from '../picture/camera.ts'
import type { Scenario } from '../scenario.ts'
import { nearEdgeZ, worldFromPlank } from '../simulation/board-place.ts'
import { instantAt, type Recording } from '../simulation/recording.ts'

export const MARKS = ['entryEnd', 'exitEnd', 'pivot', 'upContactEdge', 'downContactEdge'] as const
export type MarkName = (typeof MARKS)[number]
export type Px = readonly [number, number]

/** Knows where the marked points of the plank's near top edge are in the picture at a time. */
export class MarkedPoints {
  private readonly scenario: Scenario
  private readonly recording: Recording
  private readonly camera: Camera
  private readonly pose: (timeS: number) => Pose

  constructor(scenario: Scenario, recording: Recording, camera: Camera, pose: (timeS: number) => Pose) {
    this.scenario = scenario
    this.recording = recording
    this.camera = camera
    this.pose = pose
  }

  /** The exact place, each point at the moment at which its own row of the picture is exposed. */
  at(timeS: number): Record<MarkName, Px> {
    const { lengthM, contactM } = this.scenario.board
    const alongM = {
      entryEnd: 0,
      exitEnd: lengthM,
      pivot: lengthM / 2,
      upContactEdge: contactM,
      downContactEdge: lengthM - contactM,
    }
    return Object.fromEntries(MARKS.map((name) => [name, this.place(alongM[name], timeS)])) as Record<MarkName, Px>
  }

  private place(alongM: number, timeS: number): Px {
    const { board, camera } = this.scenario
    let momentS = timeS
    let px: Px = [0, 0]
    for (let i = 0; i < 3; i++) {
      const { board: at } = instantAt(this.recording, momentS)
      const p = this.camera.project(
        this.pose(momentS),
        worldFromPlank(board, at, alongM, 0, nearEdgeZ(board, camera.side)),
      )
      px = [p.xPx, p.yPx]
      momentS = timeS + (p.yPx / camera.heightPx - 0.5) * camera.rollingShutterS
    }
    return px
  }
}
