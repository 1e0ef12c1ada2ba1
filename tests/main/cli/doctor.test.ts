import { expect, test } from 'vitest'
import { doctorText } from '../../../main/cli/doctor.ts'
import type { MachineReport } from '../../../main/film/engines/machine-report.ts'

const BACKEND = { backend: 'tfjs-wasm', version: '4.22.0', considered: [] } as const

const HEALTHY: MachineReport = {
  schema: 'tiphold.doctor/1',
  program: { version: '1.2.3' },
  machine: { node: '20.1.0', platform: 'linux', architecture: 'x64', cores: 2, memoryGiB: 8 },
  ffmpeg: {
    kind: 'found',
    ffmpegPath: '/somewhere/ffmpeg',
    ffprobePath: null,
    version: '7.1',
    year: 2024,
    source: 'PATH',
    features: { passthroughArgs: ['-fps_mode', 'passthrough'], decodesHevc: true, encodesH264: true },
    ffprobeVersion: null,
    ffprobeSource: null,
    considered: [{ program: 'ffmpeg', source: 'PATH', path: '/somewhere/ffmpeg', outcome: 'chosen', why: 'it passed' }],
  },
  network: { kind: 'ready', backend: BACKEND, lookMs: 120 },
  electron: { kind: 'no-binary', version: '45.0.0' },
}

test('a healthy machine is told what is used, where it lies and why', () => {
  const text = doctorText(HEALTHY)
  expect(text).toContain('ffmpeg 7.1, of 2024: /somewhere/ffmpeg')
  expect(text).toContain('from PATH (/somewhere/ffmpeg): chosen, it passed')
  expect(text).toContain('network that reads paws: tfjs-wasm 4.22.0, 120 ms for five seconds of a ride')
  expect(text).toContain('Electron 45.0.0: its binary has not been downloaded')
  expect(lastLine(text)).toBe('Everything that a measurement needs is here.')
})

test('a TIPHOLD_FFMPEG that does not work is not passed over in silence', () => {
  const refused = {
    program: 'ffmpeg',
    source: 'TIPHOLD_FFMPEG',
    path: '/typo',
    outcome: 'refused',
    why: 'there is no such file',
  } as const
  expect(lastLine(doctorText(withFfmpeg({ considered: [refused] })))).toBe(
    'TIPHOLD_FFMPEG is set but not used: there is no such file. Correct it or unset it.',
  )
})

test('an ffmpeg without HEVC is told with what to do', () => {
  const features = { passthroughArgs: ['-vsync', 'passthrough'], decodesHevc: false, encodesH264: true } as const
  expect(lastLine(doctorText(withFfmpeg({ features })))).toBe(
    'HEVC clips cannot be read: use another ffmpeg, or film in H.264.',
  )
})

test('without any ffmpeg nothing can be measured, and it says what to do', () => {
  const text = doctorText({ ...HEALTHY, ffmpeg: { kind: 'missing', why: 'Install ffmpeg.', considered: [] } })
  expect(lastLine(text)).toBe('Nothing can be measured. Install ffmpeg.')
})

test('without the network no ride can be measured, and that is said', () => {
  const text = doctorText({ ...HEALTHY, network: { kind: 'unavailable', why: 'its files are missing' } })
  expect(text).toContain('network that reads paws: none, its files are missing')
  expect(lastLine(text)).toBe('No ride can be measured: the network that reads paws does not run here.')
})

type Found = Extract<MachineReport['ffmpeg'], { kind: 'found' }>

function withFfmpeg(change: Partial<Found>): MachineReport {
  return { ...HEALTHY, ffmpeg: { ...(HEALTHY.ffmpeg as Found), ...change } }
}

function lastLine(text: string): string | undefined {
  return text.split('\n').at(-1)
}

test('an ffmpeg of many years ago is told, and that it is not for clips from strangers', () => {
  expect(lastLine(doctorText(withFfmpeg({ year: 2018 })))).toMatch(/^This ffmpeg is of 2018.*install a newer one\.$/)
})
