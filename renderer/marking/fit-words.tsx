import { useSettings } from '../app/use-settings.ts'
import { lengthUnit, shownIn } from '../lists/lengths.ts'
import { Notice } from '../look/notice.tsx'
import type { Fit } from './fit.ts'
import { POINT_TITLES } from './mark-point.ts'
import { suspectOf } from './suspect.ts'

export interface FitWordsProps {
  readonly fit: Fit | null
  /** What is still to be marked; null when all is. */
  readonly lacks: string | null
}

/** How well the marks fit the board, or what is still missing. */
export function FitWords({ fit, lacks }: FitWordsProps) {
  const unit = lengthUnit(useSettings().settings.units)
  const off = (px: number, m: number): string => `${px.toFixed(1)} px (${shownIn(unit, m)})`
  return (
    <div className="fit-words" role="status">
      {fit === null ? null : fit.kind === 'impossible' ? (
        <Notice tone="unsure">{fit.reason}</Notice>
      ) : (
        <Notice tone={suspectOf(fit) === null ? 'good' : 'unsure'}>
          <strong>{suspectOf(fit) === null ? 'Good fit.' : 'One point stands out.'}</strong> Off by{' '}
          {off(fit.misfitPx, fit.misfitM)} on average, at most {off(fit.worst.misfitPx, fit.worst.misfitM)}:{' '}
          {POINT_TITLES[fit.worst.point.name].toLowerCase()}
          {fit.worst.point.moment === 'rest' ? ', at rest' : ', exit end down'}.
        </Notice>
      )}
      {lacks === null ? null : <p className="soft small">{lacks}</p>}
    </div>
  )
}
