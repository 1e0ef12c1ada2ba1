import type { Handlers } from '../contract/calls.ts'
import { success } from '../contract/outcome.ts'
import type { EngineLine } from '../contract/settings.ts'
import { type MachineReport, reportMachine } from '../film/engines/machine-report.ts'

/** Which engines this machine has; they are tried out once, and the answer is kept. */
export function enginesHandlers(): Pick<Handlers, 'engines.report'> {
  let report: Promise<MachineReport> | null = null
  return {
    'engines.report': async () => {
      report ??= reportMachine()
      return success(engineLines(await report))
    },
  }
}

/** What does the work on this machine, and why it does. */
function engineLines({ ffmpeg, network, electron }: MachineReport): readonly EngineLine[] {
  return [readingLine(ffmpeg), ...writingLine(ffmpeg), pawsLine(network), windowLine(electron)]
}

function readingLine(ffmpeg: MachineReport['ffmpeg']): EngineLine {
  const job = 'Reading clips'
  if (ffmpeg.kind === 'missing') return { job, inUse: 'nothing', why: ffmpeg.why }
  const used = ffmpeg.considered.find(({ outcome }) => outcome === 'chosen')
  const hevc = ffmpeg.features.decodesHevc ? 'reads H.264 and HEVC' : 'reads H.264, but not HEVC: film in H.264'
  return { job, inUse: `ffmpeg ${ffmpeg.version}`, why: `${ffmpeg.ffmpegPath}; ${used?.why ?? 'it works'}; ${hevc}` }
}

function writingLine(ffmpeg: MachineReport['ffmpeg']): EngineLine[] {
  if (ffmpeg.kind === 'missing' || ffmpeg.features.encodesH264) return []
  return [{ job: 'Writing films with the plank drawn in', inUse: 'nothing', why: 'this ffmpeg has no H.264 encoder' }]
}

function pawsLine(network: MachineReport['network']): EngineLine {
  const job = 'Reading paws'
  if (network.kind === 'unavailable') return { job, inUse: 'nothing', why: network.why }
  const { backend, version } = network.backend
  return {
    job,
    inUse: `a network of our own, on ${backend} ${version}`,
    why: `the first that passed its test; ${network.lookMs} ms for five seconds of a ride`,
  }
}

function windowLine(electron: MachineReport['electron']): EngineLine {
  const job = 'Showing the window'
  switch (electron.kind) {
    case 'ready':
      return { job, inUse: `Electron ${electron.version}`, why: 'its binary is here' }
    case 'no-binary':
      return { job, inUse: 'the browser', why: 'the binary of Electron has not been downloaded' }
    case 'not-installed':
      return { job, inUse: 'the browser', why: 'Electron is not installed' }
  }
}
