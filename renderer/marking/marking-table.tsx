import { ArrowRight, Redo2, Undo2 } from 'lucide-react'
import { useEffect, useEffectEvent, useMemo, useRef, useState } from 'react'
import { Link } from 'react-router'
import type { Board } from '../../analysis/board/board.ts'
import type { ImagePx } from '../../analysis/geometry/points.ts'
import { markedTravel } from '../../analysis/marking/marks-draft.ts'
import type { ClipDetail, MarksDraft } from '../../main/contract/clips.ts'
import { useHistory } from '../app/histories.tsx'
import { Button, IconButton } from '../look/button.tsx'
import { Tick } from '../look/choice.tsx'
import { Notice } from '../look/notice.tsx'
import { useKeptPart } from '../clip/use-kept-part.ts'
import { readinessOf } from './complete-marks.ts'
import { EndGlasses } from './end-glasses.tsx'
import { FitWords } from './fit-words.tsx'
import { FrameChooser } from './frame-chooser.tsx'
import { firstFrames } from './first-frames.ts'
import { likelyPlace } from './likely-place.ts'
import { type Moment, nextUnplaced, pointOf, type PointName, POINTS, withFrame, withPoint } from './mark-point.ts'
import { MeasureClip } from '../measuring/measure-clip.tsx'
import { MomentTabs } from './moment-tabs.tsx'
import { PictureViewer, type ViewerHandle } from './picture-viewer.tsx'
import { PointList } from './point-list.tsx'
import { ProposalWords, Proposals } from './proposals.tsx'
import { TravelCheck, travelInWords } from '../clip/travel-check.tsx'
import { useProposals } from '../clip/use-proposals.ts'
import { useFit } from './use-fit.ts'

export interface MarkingTableProps {
  readonly clip: ClipDetail
  readonly board: Board
}

/** Picture, points and fit of one clip, and what the handler does with them. */
export function MarkingTable({ clip, board }: MarkingTableProps) {
  const { card, facts, setup } = clip
  const saving = useKeptPart(clip, 'marks')
  const setting = useKeptPart(clip, 'setup')
  const { history, act } = useHistory(`marks of ${card.id}`, saving.value, saving.put)
  const isMarked = hasPoints(history.present)
  const [isLookedFor, setIsLookedFor] = useState(!isMarked)
  const [isByHand, setIsByHand] = useState(false)
  // A direction that is turned here changes nothing about where the plank lies.
  const [asked] = useState(setup)
  const proposals = useProposals(card.id, asked, isLookedFor)
  /** Drawn on the picture at once; it becomes the handler's own by measuring with it or by moving a point. */
  const offered = isMarked || isByHand ? null : (proposals.data?.offers[0] ?? null)
  const [moment, setMoment] = useState<Moment>('rest')
  const [selected, setSelected] = useState<PointName>('entryEnd')
  const [first] = useState(() => firstFrames(setup.stretch, facts.frameCount))
  const viewer = useRef<ViewerHandle>(null)
  const marks = offered?.marks ?? history.present
  const landedFrame = proposals.data?.offers.find(({ marks: { grounded } }) => grounded !== null)?.marks.grounded?.frame
  const likelyFrame = moment === 'grounded' ? (landedFrame ?? first.grounded) : first.rest
  const frame = marks[moment]?.frame ?? likelyFrame
  const readiness = readinessOf(marks, facts.fileName)
  const question = useMemo(
    () => (readiness.kind === 'incomplete' ? null : { board, marks: readiness.marks, picture: pictureOf(clip) }),
    // The readiness is new in every render; marks and clip decide it.
    [marks, board, clip],
  )
  const fit = useFit(question)
  const travel = markedTravel(marks)
  const isWrongWay = travel !== null && setting.value.travel !== null && travel !== setting.value.travel

  const change = (what: (marks: MarksDraft) => MarksDraft, running: string | null = null): void =>
    act({ kind: 'change', change: (now) => what(offered?.marks ?? now), running })

  function place(name: PointName, point: ImagePx | null, running: string | null = null): void {
    const held =
      point === null ? null : { xPx: onGrid(point.xPx, facts.widthPx), yPx: onGrid(point.yPx, facts.heightPx) }
    change((now) => withPoint(now, { moment, name }, held, frame), running && `${running} ${moment} ${name}`)
  }

  /** A click on the picture: the selected point if it is not placed yet, else the next that is not. */
  function placeNext(point: ImagePx): void {
    const isPlaced = pointOf(marks, { moment, name: selected }) !== null
    const name = isPlaced ? nextUnplaced(marks, moment, selected) : selected
    if (name === null) return
    place(name, point)
    const after = nextUnplaced(withPoint(marks, { moment, name }, point, frame), moment, name)
    setSelected(after ?? name)
  }

  function select(name: PointName): void {
    if (name !== selected) act({ kind: 'rest' })
    setSelected(name)
    const point = pointOf(marks, { moment, name })
    if (point !== null) viewer.current?.show(point)
  }

  function turnTo(next: Moment): void {
    setMoment(next)
    viewer.current?.zoom('whole')
    setSelected(nextUnplaced(marks, next, 'downContactEdge') ?? POINTS[next][0]!)
    act({ kind: 'rest' })
  }

  // Wherever the focus is: this screen has no text fields, which would have an undoing of their own.
  const onKeyDown = useEffectEvent((event: KeyboardEvent): void => {
    const key = event.key.toLowerCase()
    if (!(event.ctrlKey || event.metaKey) || (key !== 'z' && key !== 'y')) return
    event.preventDefault()
    act({ kind: key === 'y' || event.shiftKey ? 'redo' : 'undo' })
  })
  useEffect(() => {
    const listener = (event: KeyboardEvent): void => onKeyDown(event)
    window.addEventListener('keydown', listener)
    return () => window.removeEventListener('keydown', listener)
  }, [])

  return (
    <div className="marking">
      <title>Marking, Tiphold</title>
      <div className="marking-head">
        <div className="marking-title">
          <h1>Mark the plank</h1>
          <p className="soft small">
            {[card.title === '' ? card.fileName : card.title, card.dogName ?? 'no dog', card.boardName]
              .filter((part) => part !== null)
              .join(', ')}
            {setting.value.travel === null ? null : `, ${travelInWords(setting.value.travel)}`}.{' '}
            <Link to={`/clips/${card.id}/set-up`}>Change</Link>
          </p>
        </div>
        <IconButton
          label="Undo"
          shortcut="Ctrl+Z"
          isDisabled={history.past.length === 0}
          onPress={() => act({ kind: 'undo' })}
        >
          <Undo2 aria-hidden="true" />
        </IconButton>
        <IconButton
          label="Redo"
          shortcut="Ctrl+Shift+Z"
          isDisabled={history.future.length === 0}
          onPress={() => act({ kind: 'redo' })}
        >
          <Redo2 aria-hidden="true" />
        </IconButton>
      </div>
      <div className="marking-picture">
        <PictureViewer
          ref={viewer}
          clipId={card.id}
          frame={frame}
          picture={pictureOf(clip)}
          drawing={fit?.kind === 'fitted' ? fit.drawings[moment] : null}
          points={POINTS[moment].map((name) => ({ name, point: pointOf(marks, { moment, name }) }))}
          selected={selected}
          isPlacing={nextUnplaced(marks, moment, selected) !== null}
          onSelect={select}
          onPlace={placeNext}
          onDrag={(name, point) => place(name, point, 'drag')}
          onDragEnd={() => act({ kind: 'rest' })}
        />
        <FrameChooser
          frame={frame}
          frameTimesS={clip.frameTimesS}
          what={moment === 'rest' ? 'A frame with the board at rest' : 'A frame with the exit end on the ground'}
          onChange={(next) => change((now) => withFrame(now, moment, next), `frame ${moment}`)}
        />
      </div>
      <div className="marking-side">
        <MomentTabs moment={moment} marks={marks} onChange={turnTo} />
        {offered === null ? (
          <Proposals
            proposals={proposals}
            isLookedFor={isLookedFor}
            onLook={() => setIsLookedFor(true)}
            hasMarks={isMarked || isByHand}
            onUse={(proposed) => {
              change(() => proposed)
              setIsLookedFor(false)
            }}
          />
        ) : (
          <section className="card proposal" aria-label="Found marks">
            <ProposalWords proposal={offered} />
            <EndGlasses clipId={card.id} marks={offered.marks} picture={pictureOf(clip)} fit={fit} />
            <Button look="quiet" onPress={() => setIsByHand(true)}>
              Mark by hand
            </Button>
          </section>
        )}
        {moment === 'grounded' ? (
          <Tick
            isSelected={marks.neverLands}
            onChange={(neverLands) => change((now) => ({ ...now, neverLands, grounded: null }))}
          >
            It never lands in this clip
          </Tick>
        ) : null}
        {moment === 'grounded' && marks.neverLands ? (
          <p className="soft small">The landing is then worked out from the board's lengths, a little less exactly.</p>
        ) : (
          <PointList
            moment={moment}
            marks={marks}
            fit={fit}
            contactShare={board.contactM / board.lengthM}
            travel={markedTravel(marks) ?? setting.value.travel ?? 'to-right'}
            selected={selected}
            onSelect={select}
            onPlaceHere={(name) => {
              const start = likelyPlace(marks, { moment, name }, board, fit) ?? viewer.current?.middle()
              if (start === undefined) return
              place(name, start)
              setSelected(name)
              viewer.current?.show(start)
            }}
            onNudge={(name, byX, byY) => {
              const point = pointOf(marks, { moment, name })
              if (point === null) return
              const next = { xPx: point.xPx + byX, yPx: point.yPx + byY }
              place(name, next, 'nudge')
              viewer.current?.show(next)
            }}
            onRemove={(name) => place(name, null)}
            onZoom={(by) => viewer.current?.zoom(by)}
            onTurn={(by) => {
              const next = Math.min(facts.frameCount - 1, Math.max(0, frame + by))
              change((now) => withFrame(now, moment, next), `frame ${moment}`)
            }}
          />
        )}
        {saving.state.kind === 'failed' ? <Notice tone="bad">{saving.state.message}</Notice> : null}
        <div className="marking-foot">
          <TravelCheck
            marked={travel}
            said={setting.value.travel}
            onTurn={(turned) => setting.put({ ...setting.value, travel: turned })}
          />
          <div id="measure-why">
            <FitWords fit={fit} lacks={readiness.kind === 'complete' ? null : readiness.lacks} />
          </div>
          {moment === 'rest' && readiness.kind === 'fits' ? (
            <Button look="primary" onPress={() => turnTo('grounded')}>
              Next: the landing
              <ArrowRight aria-hidden="true" />
            </Button>
          ) : (
            <MeasureClip
              clip={clip}
              isReady={readiness.kind === 'complete' && fit?.kind === 'fitted' && !isWrongWay}
              describedBy="measure-why"
              onMeasure={() => {
                if (offered !== null) change(() => offered.marks)
                if (travel !== null && setting.value.travel === null) setting.put({ ...setting.value, travel })
              }}
            />
          )}
        </div>
      </div>
    </div>
  )
}

function pictureOf({ facts }: ClipDetail): { readonly widthPx: number; readonly heightPx: number } {
  return { widthPx: facts.widthPx, heightPx: facts.heightPx }
}

function hasPoints({ rest, grounded, neverLands }: MarksDraft): boolean {
  const points = [...Object.values(rest ?? {}), ...Object.values(grounded ?? {})]
  return neverLands || points.some((one) => typeof one === 'object' && one !== null)
}

/** Inside the picture, to a hundredth of a pixel. */
function onGrid(px: number, sizePx: number): number {
  return Math.round(Math.min(sizePx, Math.max(0, px)) * 100) / 100
}
