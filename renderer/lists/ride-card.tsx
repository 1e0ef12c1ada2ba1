import './ride-card.css'
import { Check, CircleAlert, CircleCheck, CircleHelp } from 'lucide-react'
import { Checkbox } from 'react-aria-components'
import { Link } from 'react-router'
import { useClient } from '../host/host-provider.tsx'
import type { RideCard } from '../../main/contract/rides.ts'
import { MiniatureChart } from '../figures/miniature-chart.tsx'
import { rideName } from '../../analysis/words/ride-name.ts'
import { holdInWords, leavingInWords, type VerdictInWords, whenInWords, zonesInWords } from './verdict-words.ts'

/** A ride as a card that opens it. */
export function RideCardLink({ ride }: { readonly ride: RideCard }) {
  return (
    <Link to={`/rides/${ride.id}`} className="card ride-card">
      <RideCardContent ride={ride} />
    </Link>
  )
}

export interface RideCardTickProps {
  readonly ride: RideCard
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
      <RideCardContent ride={ride} />
    </Checkbox>
  )
}

/** Its small chart, who rode where and when, and how it went in words. */
function RideCardContent({ ride }: { readonly ride: RideCard }) {
  const { pictureAddress } = useClient()
  const hold = holdInWords(ride.hold)
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
          {[ride.boardName, whenInWords(ride), inClipInWords(ride)].filter(Boolean).join(', ')}
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
