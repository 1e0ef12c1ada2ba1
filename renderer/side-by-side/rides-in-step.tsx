import { Fragment, useMemo, useState } from 'react'
import { PinholeSeesaw } from '../../analysis/calibration/pinhole-seesaw.ts'
import { chartSpan } from '../../analysis/drawing/chart-span.ts'
import { differenceRows } from '../../analysis/review/differences.ts'
import { commonTimesS, type StepEvent, stepMomentS } from '../../analysis/review/in-step.ts'
import { laidOver, type MarkedFrame } from '../../analysis/review/laid-over.ts'
import { EVENT_NAMES } from '../../analysis/words/event-names.ts'
import { fixed } from '../../analysis/words/in-words.ts'
import { rideName } from '../../analysis/words/ride-name.ts'
import { useSettings } from '../app/use-settings.ts'
import { PairedChart, type PairedCurves } from '../figures/paired-chart.tsx'
import { Button } from '../look/button.tsx'
import { Choice, Tick } from '../look/choice.tsx'
import { Notice } from '../look/notice.tsx'
import { useDeskKeys } from '../review/use-desk-keys.ts'
import { elementAt } from '../viewer/element-at.ts'
import { FilmBar } from '../viewer/film-bar.tsx'
import { PicturesProgress, usePictures } from '../viewer/pictures-progress.tsx'
import { SPEEDS } from '../viewer/speed-choice.tsx'
import { useClipFrames } from '../viewer/use-clip-frames.ts'
import { useFrames } from '../viewer/use-frames.ts'
import { usePlay } from '../viewer/use-play.ts'
import { PairedFilm } from './paired-film.tsx'
import type { WholeRide } from './whole-ride.ts'

const EVENTS: readonly StepEvent[] = ['tipStart', 'grounded', 'firstOn']

/** Two rides that go in step from one event on, each at its true pace. */
export function RidesInStep({ first, second }: { readonly first: WholeRide; readonly second: WholeRide }) {
  const { settings, change } = useSettings()
  const { overlays, units } = settings
  const possible = EVENTS.filter((event) =>
    [first, second].every((one) => stepMomentS(one.detail.current, event) !== null),
  )
  const [chosen, setChosen] = useState<StepEvent | null>(possible[0] ?? null)
  const [isOver, setIsOver] = useState(false)
  const [isPlaying, setIsPlaying] = useState(false)
  const [speed, setSpeed] = useState<number>(SPEEDS[1])
  const [atA, atB] = [momentOf(first, chosen), momentOf(second, chosen)]
  const [timesA, timesB] = [useTimes(first), useTimes(second)]
  const times = useMemo(() => commonTimesS(timesA, atA, timesB, atB), [timesA, atA, timesB, atB])
  const [shownS, setShownS] = useState(0)
  const element = elementAt(times, shownS + 1e-7)
  const setElement = (next: number): void => setShownS(times[Math.min(times.length - 1, Math.max(0, next))] ?? 0)
  const play = (): void => {
    if (!isPlaying && element === times.length - 1) setElement(0)
    setIsPlaying(!isPlaying)
  }
  usePlay(isPlaying, { ptsS: times, element, speed, onElement: setElement, onEnd: play })
  const step = (by: number): void => {
    setIsPlaying(false)
    setElement(element + by)
  }
  const toggle = (overlay: keyof typeof overlays): void =>
    change({ overlays: { ...overlays, [overlay]: !overlays[overlay] } })
  useDeskKeys({ step, play, toggle })
  const [kA, kB] = [elementAt(timesA, shownS + atA + 1e-6), elementAt(timesB, shownS + atB + 1e-6)]
  const picturesA = usePicturesOf(first, kA)
  const picturesB = usePicturesOf(second, kB)
  const over = laidOver(markedFrame(first, kA), markedFrame(second, kB))
  const rows = differenceRows(asCompared(first), asCompared(second), units)
  const spanS = spanOf([first, atA], [second, atB])
  const names = [first, second].map(({ detail }) => rideName(detail.card))
  const [nameA = '', nameB = ''] = names
  if (chosen === null) {
    return (
      <Notice tone="unsure">
        Neither tip, landing nor first paw was measured in both rides, so that they cannot go in step. Set the same
        moment by hand in both.
      </Notice>
    )
  }
  return (
    <>
      <div className="pair-bar">
        <Choice
          label="In step from"
          options={possible.map((event) => ({ key: event, name: EVENT_NAMES[event].name }))}
          selected={chosen}
          onSelect={(event) => {
            setChosen(event)
            setShownS(0)
          }}
        />
        <Tick isSelected={isOver} onChange={setIsOver}>
          Lay the second over the first
        </Tick>
        <span className="pair-time">
          {fixed(Math.abs(shownS), 3)} s {shownS < 0 ? 'before' : 'after'} “{EVENT_NAMES[chosen].word}”
        </span>
      </div>
      {isOver && over.kind === 'does-not' ? <Notice tone="unsure">{over.why}</Notice> : null}
      {isOver && over.kind === 'fits' ? (
        <p className="soft small">
          The pivots meet and a metre along the plank is a metre{over.isMirrored ? '; the second is mirrored' : ''}.
          What is nearer or further away than the dog does not fit.
        </p>
      ) : null}
      <div className="pair-films" data-over={isOver && over.kind === 'fits' ? '' : undefined}>
        <PairedFilm
          whole={first}
          name={nameA}
          element={kA}
          picture={picturesA.picture}
          overlays={overlays}
          over={
            isOver && over.kind === 'fits'
              ? { homography: over.homography, picture: picturesB.picture, of: second }
              : null
          }
        />
        {isOver && over.kind === 'fits' ? null : (
          <PairedFilm
            whole={second}
            name={nameB}
            element={kB}
            picture={picturesB.picture}
            overlays={overlays}
            over={null}
          />
        )}
      </div>
      {[picturesA, picturesB].map(({ state, hasFailed, retry }, k) => (
        <Fragment key={k}>
          <PicturesProgress state={state} />
          {hasFailed ? (
            <Notice tone="bad" actions={<Button onPress={retry}>Try again</Button>}>
              A picture of the {k === 0 ? 'first' : 'second'} ride could not be loaded. If its clip has moved, find it
              in its set-up.
            </Notice>
          ) : null}
        </Fragment>
      ))}
      <FilmBar
        isPlaying={isPlaying}
        onPlay={play}
        onStep={step}
        speed={speed}
        onSpeed={setSpeed}
        overlays={overlays}
        onOverlay={toggle}
      />
      <div className="pair-below">
        <figure>
          <PairedChart
            first={curvesOf(first, atA)}
            second={curvesOf(second, atB)}
            spanS={spanS}
            shownS={shownS}
            alignedOn={EVENT_NAMES[chosen].word}
          />
          <figcaption className="small soft">
            Solid line: {nameA}. Dashed line: {nameB}.
          </figcaption>
        </figure>
        <table className="table pair-differences">
          <thead>
            <tr>
              <th scope="col">Measure</th>
              <th scope="col">First</th>
              <th scope="col">Second</th>
              <th scope="col">Difference, second minus first</th>
            </tr>
          </thead>
          <tbody>
            {rows.map(({ name, first: one, second: other, difference, isClear }) => (
              <tr key={name}>
                <th scope="row">{name}</th>
                <td>{one}</td>
                <td>{other}</td>
                <td>{isClear ? <strong>{difference}</strong> : difference}</td>
              </tr>
            ))}
          </tbody>
        </table>
        <p className="soft small">
          Each difference allows for the margins of both rides; those in bold are larger than that. Two rides do not
          make a habit.
        </p>
      </div>
    </>
  )
}

function momentOf({ detail }: WholeRide, event: StepEvent | null): number {
  return event === null ? 0 : (stepMomentS(detail.current, event) ?? 0)
}

function useTimes({ detail }: WholeRide): Float64Array {
  const { ptsS } = detail.current.frames
  return useMemo(() => Float64Array.from(ptsS), [ptsS])
}

/** The pictures of one ride, which are prepared if they are not yet. */
function usePicturesOf({ detail, clip }: WholeRide, element: number) {
  const { frameIndex } = detail.picture
  const state = usePictures(clip.card.id)
  const load = useClipFrames(clip.card.id, frameIndex)
  return { ...useFrames(load, frameIndex.length, element, state.kind === 'ready'), state }
}

function markedFrame({ detail: { picture } }: WholeRide, k: number): MarkedFrame {
  const { pose, board, exitSide, cameraMotion } = picture
  const motion = cameraMotion[k] ?? null
  return {
    camera: new PinholeSeesaw(pose, board, exitSide),
    lengthM: board.lengthM,
    widthM: board.widthM,
    cameraMotion: motion === null ? new Float64Array(9).fill(NaN) : Float64Array.from(motion),
  }
}

function asCompared({ detail }: WholeRide) {
  return { ride: detail.current, lengthM: detail.picture.board.lengthM }
}

function curvesOf({ detail: { current, picture } }: WholeRide, alignedAtS: number): PairedCurves {
  const { ptsS, boardAngleDeg, leadPawM } = current.frames
  const half = picture.board.lengthM / 2
  return {
    fromAlignedS: ptsS.map((s) => s - alignedAtS),
    boardAngleDeg,
    leadPawM: leadPawM.map((m) => (m === null ? null : m - half)),
  }
}

function spanOf(...both: readonly (readonly [WholeRide, number])[]): readonly [number, number] {
  const spans = both.map(([{ detail }, atS]) => chartSpan(detail.current).map((s) => s - atS))
  return [Math.min(...spans.map(([from]) => from ?? 0)), Math.max(...spans.map(([, to]) => to ?? 1))]
}
