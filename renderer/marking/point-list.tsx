import { CircleAlert, CircleCheck } from 'lucide-react'
import { Button, type PressEvent } from 'react-aria-components'
import type { ClipSetup, MarksDraft } from '../../main/contract/clips.ts'
import type { Fit } from './fit.ts'
import { type Moment, POINT_TITLES, pointOf, type PointName, POINTS, whereToClick } from './mark-point.ts'
import { nudgeOf } from './nudge.ts'
import { PointSketch } from './point-sketch.tsx'
import { suspectOf } from './suspect.ts'

export interface PointListProps {
  readonly moment: Moment
  readonly marks: MarksDraft
  readonly fit: Fit | null
  readonly contactShare: number
  readonly travel: NonNullable<ClipSetup['travel']>
  readonly selected: PointName
  readonly onSelect: (name: PointName) => void
  /** By key: place it where it may be, to be moved from there. */
  readonly onPlaceHere: (name: PointName) => void
  readonly onNudge: (name: PointName, byXPx: number, byYPx: number) => void
  readonly onRemove: (name: PointName) => void
  readonly onZoom: (by: 'closer' | 'further' | 'whole') => void
  readonly onTurn: (byFrames: 1 | -1) => void
}

/** The points of one moment: what to click, where that is, and whether it is done. The one in focus takes the keys. */
export function PointList(props: PointListProps) {
  const { moment, marks, fit, contactShare, travel, selected, onSelect, onPlaceHere } = props
  const wrong = suspectOf(fit)

  function onKeyDown(name: PointName, event: React.KeyboardEvent): void {
    const nudge = nudgeOf(event)
    if (nudge !== null) props.onNudge(name, nudge.byXPx, nudge.byYPx)
    else if (event.key === 'Delete' || event.key === 'Backspace') props.onRemove(name)
    else if (event.key === '+' || event.key === '=') props.onZoom('closer')
    else if (event.key === '-') props.onZoom('further')
    else if (event.key === '0') props.onZoom('whole')
    else if (event.key === 'PageDown') props.onTurn(1)
    else if (event.key === 'PageUp') props.onTurn(-1)
    else return
    event.preventDefault()
  }

  return (
    <ol className="point-list">
      {POINTS[moment].map((name) => {
        const point = pointOf(marks, { moment, name })
        const isWrong = wrong?.moment === moment && wrong.name === name
        const state = point === null ? 'not placed' : `at ${point.xPx.toFixed(2)}, ${point.yPx.toFixed(2)}`
        return (
          // The keys bubble up from the button, which leaves these ones alone.
          <li key={name} onKeyDown={(event) => onKeyDown(name, event)}>
            <Button
              className="point"
              data-selected={name === selected}
              data-placed={point !== null}
              aria-label={`${POINT_TITLES[name]}, ${isWrong ? 'look at it again, ' : ''}${state}`}
              aria-describedby={`where-${moment}-${name}`}
              onFocus={() => onSelect(name)}
              onPress={({ pointerType }: PressEvent) => {
                if (point === null && (pointerType === 'keyboard' || pointerType === 'virtual')) onPlaceHere(name)
                else onSelect(name)
              }}
            >
              <PointSketch moment={moment} name={name} contactShare={contactShare} travel={travel} />
              <span className="point-words">
                <strong>{POINT_TITLES[name]}</strong>
                <span className="soft small" id={`where-${moment}-${name}`}>
                  {whereToClick({ moment, name })}
                </span>
              </span>
              {isWrong ? (
                <CircleAlert className="point-wrong" aria-hidden="true" />
              ) : point === null ? null : (
                <CircleCheck className="point-done" aria-hidden="true" />
              )}
            </Button>
          </li>
        )
      })}
    </ol>
  )
}
