import { expect, test } from 'vitest'
import { CLIPS } from '../../sample-clips/clip-list.ts'
import { Renderer } from '../../sample-clips/picture/renderer.ts'
import type { Scenario } from '../../sample-clips/scenario.ts'
import { record } from '../../sample-clips/simulation/recording.ts'
import { soundtrack } from '../../sample-clips/sound/soundtrack.ts'
import { RATE_HZ } from '../../sample-clips/sound/voices.ts'

test('the landing is heard when its sound has come through the air to the camera, not before', () => {
  const drop = CLIPS.find((clip) => clip.name === 'drop-1kg')!
  const scenario: Scenario = { ...drop, sound: { present: true, windLevel: 0, others: [] } }
  const recording = record(scenario)
  const wave = soundtrack(scenario, recording, new Renderer(scenario, recording).camera.basePosition)
  const loud = wave.findIndex((value) => Math.abs(value) > 0.02)
  // 6 m camera distance, the exit end 1.75 m along, 3 deg yaw, 1.2 m high: about 6.2 m, 18 ms.
  const delayS = loud / RATE_HZ - recording.groundedS!
  expect(delayS).toBeGreaterThan(0.0175)
  expect(delayS).toBeLessThan(0.0185)
})
