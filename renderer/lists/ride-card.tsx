import './ride-card.css'
import { Check, CircleAlert, CircleCheck, CircleHelp, VideoOff } from 'lucide-react'
import { Checkbox } from 'react-aria-components'
import { Link } from 'react-router'
import { useClient } from '../host/host-provider.tsx'
import type { AnyRideCard, NotedCard, RideCard } from '../../main/contract/rides.ts'
import { MiniatureChart } from '../figures/miniature-chart.tsx'
import { withheld } from '../../analysis/estimate.ts'
import { rideName } from '../../analysis/words/ride-name.ts'
import { feelInWords, useFeels } from './board-feels.ts'
import {
  dayInWords,
  holdInWords,
  leavingInWords,
  type VerdictInWords,
  whenInWords,
  zonesInWords,
} from './verdict-words.ts'

/** A ride as a card that opens it. */
export function RideCardLink({ ride }: { readonly ride: AnyRideCard }) {
  return (
    <Link to={`/${'origin' in ride ? 'noted' : 'rides'}/${ride.id}`} className="card ride-card">
      <AnyContent ride={ride} />
    </Link>
  )
}

export interface RideCardTickProps {
  readonly ride: AnyRideCard
  readonly isSelected: boolean
  readonly onChange: (isSelected: boolean) => void
}

/** A ride as a card that can be chosen with others. */
export function RideCardTick({ ride, ...props }: RideCardTickProps) {
  return (
    <Checkbox {...props} className="card ride-card ride-card-tick">
      <span className="box" aria-hidden="true">
        <Check strokeWidth={3} />
      </span>
      <AnyContent ride={ride} />
    </Checkbox>
  )
}

function AnyContent({ ride }: { readonly ride: AnyRideCard }) {
  return 'origin' in ride ? <NotedContent ride={ride} /> : <RideCardContent ride={ride} />
}

const ORIGINS: Readonly<Record<NotedCard['origin'], string>> = {
  'by-hand': 'Entered by hand, not filmed',
  file: 'From a file, no film here',
  invented: 'Invented, no film',
}

/** What is known of a ride without its film. */
function NotedContent({ ride }: { readonly ride: NotedCard }) {
  const { origin, dogName, boardName, session, leaving, hold } = ride
  const words = holdInWords(hold)
  const verdict = leaving === null ? null : leavingInWords({ leaving, leavingMargin: NO_MARGIN })
  return (
    <>
      <div className="ride-card-noted">
        <VideoOff aria-hidden="true" />
        <span>{ORIGINS[origin]}</span>
      </div>
      <div className="ride-card-words">
        <strong>{dogName ?? 'A ride'}</strong>
        <span className="soft small">
          {[boardName, session.day === null ? 'day not known' : dayInWords(session.day)].filter(Boolean).join(', ')}
          {session.purpose === 'show' ? ', show' : ''}
        </span>
        {verdict === null ? <span className="soft">Leaving not said</span> : <Verdict {...verdict} />}
        {words === null ? null : <span className="small">{capital(words)}</span>}
      </div>
    </>
  )
}

const NO_MARGIN = withheld('not-seen', '')

/** Its small chart, who rode where and when, and how it went in words. */
function RideCardContent({ ride }: { readonly ride: RideCard }) {
  const { pictureAddress } = useClient()
  const hold = holdInWords(ride.hold)
  const feel = feelInWords(useFeels().get(ride.boardId ?? ''))
  return (
    <>
      <div className="ride-card-chart">
        <img
          className="ride-card-film"
          src={pictureAddress(ride.clipId, ride.filmFrame, 'small')}
          alt=""
          loading="lazy"
        />
        <MiniatureChart miniature={ride.miniature} />
      </div>
      <div className="ride-card-words">
        <strong>{rideName(ride)}</strong>
        <span className="soft small">
          {[ride.boardName, feel, whenInWords(ride), inClipInWords(ride)].filter(Boolean).join(', ')}
        </span>
        <Verdict {...leavingInWords(ride)} />
        {hold === null ? null : <span className="small">{capital(hold)}</span>}
        {zonesInWords(ride).map((verdict) => (
          <Verdict key={verdict.words} {...verdict} />
        ))}
        {ride.isCorrected ? <span className="soft small">Corrected by hand</span> : null}
      </div>
    </>
  )
}

/** Tells the rides of one clip apart; null where it has only one. */
function inClipInWords({ inClip, miniature }: RideCard): string | null {
  return inClip.of === 1 ? null : `ride ${inClip.ride} of ${inClip.of}, ${Math.round(miniature.fromS)} s into the clip`
}

const ICONS = { good: CircleCheck, bad: CircleAlert, unsure: CircleHelp } as const

/** A verdict: a shape and words; the colour only repeats them. */
export function Verdict({ tone, words }: VerdictInWords) {
  const Icon = ICONS[tone]
  return (
    <span className="verdict" data-tone={tone}>
      <Icon aria-hidden="true" />
      {words}
    </span>
  )
}

function capital(words: string): string {
  return words.slice(0, 1).toUpperCase() + words.slice(1)
}
