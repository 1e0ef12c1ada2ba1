import { expect, test } from 'vitest'
import { borderCrossings } from './borders.ts'
import { sourceFiles } from './source-files.ts'

test('no file of the project imports across a border', () => {
  const files = sourceFiles('analysis', 'main', 'renderer', 'sample-clips', 'tests')
  expect(files.length).toBeGreaterThan(10)
  expect(borderCrossings(files)).toEqual([])
})

test.each([
  ['analysis/ride/ride.ts', `import { readFileSync } from 'node:fs'`],
  ['analysis/ride/ride.ts', `import { chooseFfmpeg } from '../../main/engines/ffmpeg-choice.ts'`],
  ['analysis/ride/ride.ts', `const tfjs = await import('@tensorflow/tfjs-core')`],
  ['main/media/clip.ts', `export { Plank } from '../../renderer/plank.tsx'`],
  ['renderer/app.tsx', `import { chooseFfmpeg } from '../main/engines/ffmpeg-choice.ts'`],
  ['renderer/app.tsx', `import { ipcRenderer } from 'electron'`],
  ['sample-clips/draw.ts', `import { measured } from '../analysis/estimate.ts'`],
  ['main/cli/tiphold.ts', `import type { Scene } from '../../sample-clips/scene.ts'`],
])('%s may not contain: %s', (path, text) => {
  expect(borderCrossings([{ path, text }])).toHaveLength(1)
})

test.each([
  ['analysis/ride/ride.ts', `import { measured } from '../estimate.ts'`],
  ['main/media/clip.ts', `import { spawn } from 'node:child_process'`],
  ['main/report/ride-page.tsx', `import { RideChart } from '../../renderer/figures/ride-chart.tsx'`],
  ['renderer/app.tsx', `import type { Contract } from '../main/contract/contract.ts'`],
  ['sample-clips/write.ts', `import { chooseFfmpeg } from '../main/engines/ffmpeg-choice.ts'`],
])('%s may contain: %s', (path, text) => {
  expect(borderCrossings([{ path, text }])).toEqual([])
})
