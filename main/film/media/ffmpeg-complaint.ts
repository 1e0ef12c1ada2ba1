import { ClipProblem } from './clip-problem.ts'

/**
 * The sentence for a clip that ffmpeg gave up on.
 *
 * @param complaints lines that ffmpeg marked as errors
 */
export function unreadableClip(fileName: string, complaints: readonly string[]): ClipProblem {
  const said = complaints.join('\n')
  if (/moov atom not found/.test(said)) {
    return new ClipProblem(
      'damaged',
      `${fileName} has no index, so its recording or copying was cut off: copy it from the phone again.`,
    )
  }
  const last = complaints.at(-1)?.replace(/^(\[[^\]]*\] )+/, '')
  const because = last === undefined ? '' : ` (${last})`
  return new ClipProblem(
    'damaged',
    `${fileName} is damaged and cannot be read${because}: copy it from the phone again.`,
  )
}
