import './review.css'
import '../viewer/viewer.css'
import { type ReactNode, useMemo, useState } from 'react'
import { nearestFrame } from '../../analysis/drawing/frame-drawing.ts'
import { readReview } from '../../analysis/review/read-review.ts'
import type { ReviewAuthor, ReviewItem, StrokeShape } from '../../analysis/review/review-item.ts'
import { hasRoomForVoice } from '../../analysis/review/voice-room.ts'
import { answersOf, answerText } from '../../analysis/words/answers.ts'
import { fixed } from '../../analysis/words/in-words.ts'
import { RIDE_CAUTIONS } from '../../analysis/words/ride-cautions.ts'
import type { Units } from '../../analysis/words/units.ts'
import { leavingFirst, verdictCards } from '../../analysis/words/verdict-cards.ts'
import type { PackDetail } from '../../main/contract/review.ts'
import { FIRST_SETTINGS } from '../../main/contract/settings.ts'
import { PlankChart } from '../chart/plank-chart.tsx'
import { VerdictShape } from '../figures/verdict-shape.tsx'
import { Button } from '../look/button.tsx'
import { Notice } from '../look/notice.tsx'
import { FilmBar } from '../viewer/film-bar.tsx'
import { FramePicture } from '../viewer/frame-picture.tsx'
import type { Overlay } from '../viewer/overlays.ts'
import { plankPicture } from '../viewer/overlay-drawing.ts'
import { PlankOverlay } from '../viewer/plank-overlay.tsx'
import { SPEEDS } from '../viewer/speed-choice.tsx'
import { type LoadFrame, useFrames } from '../viewer/use-frames.ts'
import { usePlay } from '../viewer/use-play.ts'
import { Compose } from './compose.tsx'
import { DrawingLayer } from './drawing-layer.tsx'
import { type Drawing, withStroke } from './drawing.ts'
import { Remarks } from './remarks.tsx'
import { shownStrokes } from './shown-strokes.ts'
import { useDeskKeys } from './use-desk-keys.ts'

export interface ReviewDeskProps {
  readonly detail: PackDetail
  readonly author: ReviewAuthor
  readonly units: Units
  /** Must stay the same as long as the pack does. */
  readonly loadFrame: LoadFrame
  readonly isReady: boolean
  readonly onItem: (item: ReviewItem) => void
  /** The pack's name, and what belongs to it. */
  readonly head: ReactNode
  /** Who comments here, and what she can do with the pack. */
  readonly doing: ReactNode
}

/** Where a coach looks at somebody's ride: the film frame by frame, what was measured, and room to comment and draw. */
export function ReviewDesk({ detail, author, units, loadFrame, isReady, onItem, head, doing }: ReviewDeskProps) {
  const { ride, film, items, handlerId } = detail
  const ptsS = useMemo(() => Float64Array.from(film.ptsS), [film.ptsS])
  const last = ptsS.length - 1
  const [element, setElement] = useState(() => firstShown(detail, ptsS))
  const [isPlaying, setIsPlaying] = useState(false)
  const [speed, setSpeed] = useState<number>(SPEEDS[1])
  const [overlays, setOverlays] = useState(FIRST_SETTINGS.overlays)
  const [tool, setTool] = useState<StrokeShape | null>(null)
  const [drawing, setDrawing] = useState<Drawing | null>(null)
  const frames = useFrames(loadFrame, ptsS.length, element, isReady)
  const play = (): void => {
    if (!isPlaying && element === last) setElement(0)
    setIsPlaying(!isPlaying)
  }
  usePlay(isPlaying, { ptsS, element, speed, onElement: setElement, onEnd: play })
  // What is drawn over a picture belongs to that picture: until the wanted one has come, to the last one.
  const [shown, setShown] = useState(element)
  if (frames.picture !== null && shown !== element) setShown(element)
  const step = (by: number): void => {
    setIsPlaying(false)
    setElement((now) => Math.min(last, Math.max(0, now + by)))
  }
  const show = (atS: number): void => {
    setIsPlaying(false)
    setElement(nearestFrame(ptsS, atS))
  }
  const toggle = (overlay: Overlay): void => setOverlays({ ...overlays, [overlay]: !overlays[overlay] })
  useDeskKeys({ step, play, toggle })

  const picture = useMemo(() => {
    const [first] = film.ptsS
    const offset = ride.frames.ptsS.indexOf(first ?? 0)
    const part = <T,>(all: readonly T[]): readonly T[] => all.slice(offset, offset + film.ptsS.length)
    const { leadPawM, rearPawM, bodyM } = ride.frames
    return {
      ...plankPicture(film.picture, ptsS),
      leadPawM: part(leadPawM),
      rearPawM: part(rearPawM),
      bodyM: part(bodyM),
    }
  }, [film, ptsS, ride])
  const review = useMemo(() => readReview(items, handlerId), [items, handlerId])
  const { board } = film.picture
  const spanS = useMemo(() => [ptsS[0] ?? 0, ptsS[ptsS.length - 1] ?? 1] as const, [ptsS])
  const draws = isPlaying ? null : tool
  const shownS = ptsS[shown] ?? 0
  const isDrawnHere = drawing?.atS === shownS
  return (
    <div className="desk">
      <div className="desk-head">
        {head}
        <div className="desk-doing">{doing}</div>
      </div>
      <div className="desk-film frame-viewer">
        <div className="frame-place">
          <FramePicture
            picture={frames.picture}
            label={`Frame ${shown + 1} of ${ptsS.length}`}
            widthPx={film.widthPx}
            heightPx={film.heightPx}
            onPoint={null}
          >
            {(shownWidthPx) => (
              <>
                <PlankOverlay
                  picture={picture}
                  element={shown}
                  footfalls={ride.footfalls}
                  shows={overlays}
                  clipWidthPx={film.widthPx}
                  clipHeightPx={film.heightPx}
                  shownWidthPx={shownWidthPx}
                />
                <DrawingLayer
                  strokes={[...shownStrokes(review.comments, ptsS, shown), ...(isDrawnHere ? drawing.strokes : [])]}
                  tool={drawing === null || isDrawnHere ? draws : null}
                  onStroke={(stroke) => setDrawing(withStroke(drawing, stroke, shownS))}
                />
                <p className="frame-facts">
                  <span>{fixed(shownS, 3)} s</span>
                </p>
              </>
            )}
          </FramePicture>
          {frames.hasFailed ? (
            <div className="frame-failed">
              <Notice tone="bad" actions={<Button onPress={frames.retry}>Try again</Button>}>
                This picture could not be shown.
              </Notice>
            </div>
          ) : null}
        </div>
        <FilmBar
          isPlaying={isPlaying}
          onPlay={play}
          onStep={step}
          speed={speed}
          onSpeed={setSpeed}
          overlays={overlays}
          onOverlay={toggle}
        />
      </div>
      <div className="desk-chart">
        <PlankChart
          ride={ride}
          board={board}
          sound={film.picture.sound}
          spanS={spanS}
          units={units}
          playheadS={ptsS[element] ?? 0}
          onSeek={show}
        />
      </div>
      <div className="desk-side" role="region" aria-label="Comments and numbers" tabIndex={0}>
        <Remarks review={review} ownId={author.id} onShow={show} onItem={onItem} onAnswer={null} />
        <Compose
          author={author}
          shownS={ptsS[element] ?? 0}
          tool={tool}
          onTool={(next) => {
            setIsPlaying(false)
            setTool(next)
          }}
          drawing={drawing}
          onDrawing={setDrawing}
          onItem={onItem}
          hasRoomForVoice={hasRoomForVoice(items)}
          role="coach"
        />
        <section className="desk-numbers" aria-label="What was measured">
          <h2>What was measured</h2>
          <p className="desk-verdicts">
            {leavingFirst(verdictCards(ride)).map(({ title, shape, word }) => (
              <span key={title}>
                <VerdictShape shape={shape} /> {title}: <strong>{word}</strong>
              </span>
            ))}
          </p>
          <ul>
            {answersOf(ride, board.lengthM, units).map((answer) => (
              <li key={answer.lead}>{answerText(answer)}</li>
            ))}
          </ul>
          {[...ride.notes, ...RIDE_CAUTIONS].map((caution) => (
            <p key={caution} className="soft small">
              {caution}
            </p>
          ))}
        </section>
      </div>
    </div>
  )
}

function firstShown({ ride }: PackDetail, ptsS: Float64Array): number {
  const { tipStart } = ride.events
  return tipStart.kind === 'measured' ? nearestFrame(ptsS, tipStart.value) : ptsS.length >> 1
}
