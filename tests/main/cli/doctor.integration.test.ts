import { expect, test } from 'vitest'
import { doctor } from '../../../main/cli/doctor.ts'

test('on this machine the doctor finds an ffmpeg and a network that work', async () => {
  const { json, text } = await doctor()
  expect(json.ffmpeg.kind).toBe('found')
  expect(json.network.kind).toBe('ready')
  expect(text).toContain(`Node ${process.versions.node}`)
  expect(JSON.parse(JSON.stringify(json))).toEqual(json)
})
