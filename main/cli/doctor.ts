import type { Considered } from '../film/engines/ffmpeg-choice.ts'
import { type MachineReport, reportMachine } from '../film/engines/machine-report.ts'

/** Says which engines are in use and why: once for people, once for scripts. */
export async function doctor(): Promise<{ text: string; json: MachineReport }> {
  const json = await reportMachine()
  return { text: doctorText(json), json }
}

/** The report for people: the machine, each engine with every place looked at, and what follows. */
export function doctorText(report: MachineReport): string {
  const { machine } = report
  const parts = [
    [
      `Tiphold ${report.program.version}`,
      `Node ${machine.node}, ${machine.platform} ${machine.architecture}, ${machine.cores} cores, ${machine.memoryGiB} GiB of memory`,
    ],
    ffmpegLines(report.ffmpeg),
    networkLines(report.network),
    electronLines(report.electron),
    conclusions(report),
  ]
  return parts.map((lines) => lines.join('\n')).join('\n\n')
}

function ffmpegLines(ffmpeg: MachineReport['ffmpeg']): string[] {
  const places = ffmpeg.considered.filter(({ program }) => program === 'ffmpeg').map(placeLine)
  if (ffmpeg.kind === 'missing') return ['ffmpeg: none', ...places]
  const { decodesHevc, encodesH264, passthroughArgs } = ffmpeg.features
  const ffprobe = ffmpeg.ffprobePath === null ? 'none' : `${ffmpeg.ffprobeVersion}, ${ffmpeg.ffprobePath}`
  return [
    `ffmpeg ${ffmpeg.version}${ffmpeg.year === null ? '' : `, of ${ffmpeg.year}`}: ${ffmpeg.ffmpegPath}`,
    `  reads 10-bit HEVC: ${yesNo(decodesHevc)}; writes H.264: ${yesNo(encodesH264)}; keeps every frame by ${passthroughArgs[0]}`,
    ...places,
    `ffprobe, which only the tests of this program compare with: ${ffprobe}`,
  ]
}

function placeLine({ source, outcome, path, why }: Considered): string {
  const where = path === null ? source : `${source} (${path})`
  return `  from ${where}: ${outcomeWord(outcome)}, ${why}`
}

function networkLines(network: MachineReport['network']): string[] {
  if (network.kind === 'unavailable') return [`network that reads paws: none, ${network.why}`]
  const { backend, version, considered } = network.backend
  return [
    `network that reads paws: ${backend} ${version}, ${network.lookMs} ms for five seconds of a ride`,
    ...considered.map((one) => `  ${one.backend}: ${outcomeWord(one.outcome)}, ${one.why}`),
  ]
}

function electronLines(electron: MachineReport['electron']): string[] {
  switch (electron.kind) {
    case 'ready':
      return [`Electron ${electron.version}: ${electron.path}`]
    case 'no-binary':
      return [`Electron ${electron.version}: its binary has not been downloaded`]
    case 'not-installed':
      return ['Electron: not installed']
  }
}

/** What works, what does not, and what to do about it. */
function conclusions({ ffmpeg, network }: MachineReport): string[] {
  if (ffmpeg.kind === 'missing') return [`Nothing can be measured. ${ffmpeg.why}`]
  const lines = ffmpeg.considered
    .filter(({ source, outcome }) => source.startsWith('TIPHOLD_') && outcome === 'refused')
    .map(({ source, why }) => `${source} is set but not used: ${why}. Correct it or unset it.`)
  if (isOld(ffmpeg.year)) lines.push(oldFfmpeg(ffmpeg.year))
  if (!ffmpeg.features.decodesHevc) lines.push('HEVC clips cannot be read: use another ffmpeg, or film in H.264.')
  if (!ffmpeg.features.encodesH264) lines.push('Overlay clips cannot be written: this ffmpeg lacks libx264.')
  if (network.kind === 'unavailable')
    lines.push('No ride can be measured: the network that reads paws does not run here.')
  return lines.length === 0 ? ['Everything that a measurement needs is here.'] : lines
}

/** Decoders have had holes; this year's builds of ffmpeg 5.1, the oldest that is still kept up, are well after it. */
const OLD_YEAR = 2022

function isOld(year: number | null): year is number {
  return year !== null && year < OLD_YEAR
}

function oldFfmpeg(year: number): string {
  return `This ffmpeg is of ${year}, with security holes that are known: do not open clips from strangers, and install a newer one.`
}

function yesNo(value: boolean): string {
  return value ? 'yes' : 'no'
}

function outcomeWord(outcome: Considered['outcome']): string {
  return outcome === 'not-needed' ? 'not tried' : outcome
}
