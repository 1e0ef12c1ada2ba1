import { type CSSProperties, useMemo, useState } from 'react'
import { ToggleButton } from 'react-aria-components'
import { nearestFrame } from '../../analysis/drawing/frame-drawing.ts'
import { chartSpan } from '../../analysis/drawing/chart-span.ts'
import {
  withAddedFootfall,
  withEvent,
  withMeasuredFootfall,
  withoutFootfall,
  withZone,
} from '../../analysis/ride/corrections.ts'
import type { ClipDetail } from '../../main/contract/clips.ts'
import type { RideDetail } from '../../main/contract/rides.ts'
import { useSettings } from '../app/use-settings.ts'
import { originKey, type Selection } from '../chart/chart-editing.ts'
import { ChartLegend } from '../figures/chart-legend.tsx'
import { PlankChart } from '../chart/plank-chart.tsx'
import { FindAgain } from '../setup/find-again.tsx'
import { Notice } from '../look/notice.tsx'
import { ShareDialog } from '../share/share-dialog.tsx'
import { FrameViewer } from '../viewer/frame-viewer.tsx'
import type { Overlay } from '../viewer/overlays.ts'
import { plankPicture } from '../viewer/overlay-drawing.ts'
import { chartEditingOf } from './chart-editing-of.ts'
import { RideComments } from './ride-comments.tsx'
import { RideHead } from './ride-head.tsx'
import type { RideKey } from './ride-keys.ts'
import { RideSide } from './ride-side.tsx'
import { EventBar, PawContactBar } from './selection-bar.tsx'
import { newPaw } from './set-paw.ts'
import { Verdicts } from './verdicts.tsx'
import { useCommenting } from './use-commenting.tsx'
import { useStable } from './use-stable.ts'
import { useRideKeys } from './use-ride-keys.ts'
import { type RideEditing, useRideEditing } from './use-ride-editing.ts'

/** The ride screen once everything has come: one frame is shown, and film, chart and results go with it. */
export function OpenRide({ detail, clip }: { readonly detail: RideDetail; readonly clip: ClipDetail }) {
  const { settings, change: changeSettings } = useSettings()
  const { units, overlays } = settings
  const editing = useRideEditing(detail)
  const { parts, ride } = editing
  const { ptsS } = parts.track
  const { lengthM } = parts.board
  const [element, setElement] = useState(() => firstShown(detail, ptsS))
  const [isPlaying, setIsPlaying] = useState(false)
  const [selection, setSelection] = useState<Selection | null>(null)
  const [isWholeFilm, setIsWholeFilm] = useState(false)

  const commenting = useCommenting(detail, ptsS)
  const [isSharing, setIsSharing] = useState(false)
  const share = useStable(() => setIsSharing(true))

  const last = ptsS.length - 1
  const step = useStable((frames: number): void => {
    setIsPlaying(false)
    setElement((now) => Math.min(last, Math.max(0, now + frames)))
  })
  const play = useStable((): void => {
    if (!isPlaying && element === last) setElement(0)
    setIsPlaying(!isPlaying)
  })
  const show = useStable((atS: number): void => {
    setIsPlaying(false)
    setElement(nearestFrame(ptsS, atS))
  })
  const select = useStable((next: Selection | null): void => {
    setSelection(next)
    if (next === null) return
    const shownS = ptsS[element] ?? 0
    if (next.kind === 'event') {
      const at = ride.events[next.event]
      if (at.kind === 'measured') show(at.value)
      return
    }
    const paw = ride.footfalls[editing.origins.findIndex((origin) => originKey(origin) === originKey(next.origin))]
    if (paw === undefined || (shownS >= paw.fromS && shownS <= paw.toS)) return
    show(ptsS.find((s) => s >= paw.fromS) ?? paw.fromS)
  })
  const toggle = useStable((overlay: Overlay): void =>
    changeSettings({ overlays: { ...overlays, [overlay]: !overlays[overlay] } }),
  )
  const addPaw = useStable((): void => {
    const leadM = ride.frames.leadPawM[element] ?? null
    editing.change((now) => withAddedFootfall(now, newPaw(ptsS, element, leadM, lengthM)))
    setSelection({ kind: 'paw', origin: { kind: 'added', index: editing.corrections.footfalls.added.length } })
  })
  /** The chosen paw stands where the picture is pointed at. */
  const placePaw = useStable((alongM: number): void => {
    if (selection?.kind !== 'paw') return
    const paw = ride.footfalls[editing.origins.findIndex((one) => originKey(one) === originKey(selection.origin))]
    if (paw === undefined) return
    const { fromS, toS, limb } = paw
    chartEditing.onChangePaw(selection.origin, { alongM, fromS, toS, limb })
    editing.rest()
  })
  useRideKeys('.ride-stage', (key: RideKey) => {
    switch (key.kind) {
      case 'step':
        step(key.frames)
        return
      case 'first':
      case 'last':
        step(key.kind === 'first' ? -last : last)
        return
      case 'play':
        play()
        return
      case 'overlay':
        toggle(key.overlay)
        return
      case 'undo':
        editing.undo?.()
        return
      case 'redo':
        editing.redo?.()
        return
      case 'nothing-chosen':
        setSelection(null)
        return
    }
  })

  const chartEditing = useMemo(
    () => chartEditingOf(editing, { selection, onSelect: select, onShow: show }),
    [editing, selection, select, show],
  )
  const still = useMemo(() => plankPicture(detail.picture, ptsS), [detail.picture, ptsS])
  const { leadPawM, rearPawM, bodyM } = ride.frames
  const picture = useMemo(() => ({ ...still, leadPawM, rearPawM, bodyM }), [still, leadPawM, rearPawM, bodyM])
  // What is shown does not jump about while something is moved: it goes by how the ride was when it was opened.
  const [rideSpanS] = useState(() => spanOfBoth(chartSpan(detail.measured), chartSpan(detail.current)))
  const spanS = useMemo(() => (isWholeFilm ? wholeFilm(ptsS) : rideSpanS), [isWholeFilm, ptsS, rideSpanS])
  return (
    <div className="ride-screen" style={{ '--film-ratio': clip.facts.widthPx / clip.facts.heightPx } as CSSProperties}>
      <div className="ride-top">
        <RideHead card={detail.card} rideIds={clip.card.rideIds} editing={editing} onShare={share} />
        {clip.card.isMissing ? (
          <Notice tone="bad" actions={<FindAgain clipId={clip.card.id} fileName={clip.card.fileName} />}>
            The clip has moved: its numbers are here, its pictures are not.
          </Notice>
        ) : null}
      </div>
      {isSharing ? (
        <ShareDialog
          rideId={detail.card.id}
          shownS={ptsS[element] ?? 0}
          overlays={overlays}
          hasSound={clip.facts.hasSound}
          onClose={() => setIsSharing(false)}
        />
      ) : null}
      <Verdicts
        ride={ride}
        measured={parts.measured}
        units={units}
        byEye={editing.corrections.zones}
        onZone={(zone, verdict) => editing.change((now) => withZone(now, zone, verdict))}
      />
      <div className="ride-stage ride-film">
        <FrameViewer
          clipId={clip.card.id}
          clipWidthPx={clip.facts.widthPx}
          clipHeightPx={clip.facts.heightPx}
          frameIndex={detail.picture.frameIndex}
          picture={picture}
          footfalls={ride.footfalls}
          element={element}
          onElement={setElement}
          onStep={step}
          isPlaying={isPlaying}
          onPlay={play}
          overlays={overlays}
          onOverlay={toggle}
          onPoint={selection?.kind === 'paw' ? placePaw : null}
          layer={commenting.layer}
        />
      </div>
      <RideSide
        detail={detail}
        editing={editing}
        units={units}
        selection={selection}
        onSelect={select}
        onAddPaw={addPaw}
        comments={<RideComments commenting={commenting} editing={editing} shownS={ptsS[element] ?? 0} onShow={show} />}
      />
      <section className="ride-stage ride-chart" aria-label="The ride along the plank through time">
        <div className="chart-bar">
          <Chosen
            editing={editing}
            selection={selection}
            shownS={ptsS[element] ?? 0}
            units={units}
            onClose={() => setSelection(null)}
          />
          {selection === null ? (
            <ToggleButton className="whole-film" isSelected={isWholeFilm} onChange={setIsWholeFilm}>
              Whole clip
            </ToggleButton>
          ) : null}
        </div>
        <PlankChart
          ride={ride}
          board={parts.board}
          sound={detail.picture.sound}
          spanS={spanS}
          units={units}
          playheadS={ptsS[element] ?? 0}
          onSeek={show}
          editing={chartEditing}
        />
      </section>
    </div>
  )
}

interface ChosenProps {
  readonly editing: RideEditing
  readonly selection: Selection | null
  readonly shownS: number
  readonly units: 'metric' | 'imperial'
  readonly onClose: () => void
}

/** What can be done with what is chosen; the signs of the chart while nothing is. */
function Chosen({ editing, selection, shownS, units, onClose }: ChosenProps) {
  const { ride, parts, change, rest } = editing
  if (selection?.kind === 'event') {
    const { event } = selection
    return (
      <EventBar
        event={event}
        ride={ride}
        measured={parts.measured}
        isByHand={editing.isByHand(event)}
        shownS={shownS}
        onSet={() => change((now) => withEvent(now, event, { kind: 'at', atS: shownS }))}
        onDrop={() => change((now) => withEvent(now, event, { kind: 'did-not-happen' }))}
        onRevert={() => change((now) => withEvent(now, event, null))}
        onClose={onClose}
      />
    )
  }
  const origin = editing.origins.find((one) => selection !== null && originKey(one) === originKey(selection.origin))
  const footfall = origin === undefined ? undefined : ride.footfalls[editing.origins.indexOf(origin)]
  if (origin === undefined || footfall === undefined) return <ChartLegend />
  const { onChangePaw } = chartEditingOf(editing, { selection, onSelect: () => undefined, onShow: () => undefined })
  return (
    <PawContactBar
      key={originKey(origin)}
      footfall={footfall}
      origin={origin}
      lengthM={parts.board.lengthM}
      units={units}
      shownS={shownS}
      onChange={(changed) => {
        onChangePaw(origin, changed)
        rest()
      }}
      onStrike={() => {
        change((now) => withoutFootfall(now, origin))
        onClose()
      }}
      onRevert={() => change((now) => withMeasuredFootfall(now, origin.index))}
      onClose={onClose}
    />
  )
}

/** The frame that a ride opens with: the board begins to tip, or else the dog is on. */
function firstShown({ current, picture }: RideDetail, ptsS: Float64Array): number {
  const { tipStart, firstOn } = current.events
  const at = tipStart.kind === 'measured' ? tipStart : firstOn
  return at.kind === 'measured' ? nearestFrame(ptsS, at.value) : picture.frameIndex.length >> 1
}

function wholeFilm(ptsS: Float64Array): readonly [number, number] {
  return [ptsS[0] ?? 0, ptsS[ptsS.length - 1] ?? 1]
}

function spanOfBoth(a: readonly [number, number], b: readonly [number, number]): readonly [number, number] {
  return [Math.min(a[0], b[0]), Math.max(a[1], b[1])]
}
