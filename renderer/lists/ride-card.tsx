import './ride-card.css'
import { CircleAlert, CircleCheck, CircleHelp } from 'lucide-react'
import { Link } from 'react-router'
import { framePath } from '../../main/contract/picture-paths.ts'
import type { RideCard } from '../../main/contract/rides.ts'
import { MiniatureChart } from '../figures/miniature-chart.tsx'
import { rideName } from '../../analysis/words/ride-name.ts'
import { holdInWords, leavingInWords, momentInWords, type VerdictInWords, zonesInWords } from './verdict-words.ts'

/** A ride as a card: its small chart, who rode where and when, and how it went in words. */
export function RideCardLink({ ride }: { readonly ride: RideCard }) {
  const hold = holdInWords(ride.hold)
  return (
    <Link to={`/rides/${ride.id}`} className="card ride-card">
      <div className="ride-card-chart">
        <img className="ride-card-film" src={framePath(ride.clipId, 0, 'small')} alt="" loading="lazy" />
        <MiniatureChart miniature={ride.miniature} />
      </div>
      <div className="ride-card-words">
        <strong>{rideName(ride)}</strong>
        <span className="soft small">{[ride.boardName, momentInWords(ride.takenInAt)].filter(Boolean).join(', ')}</span>
        <Verdict {...leavingInWords(ride)} />
        {hold === null ? null : <span className="small">{capital(hold)}</span>}
        {zonesInWords(ride).map((verdict) => (
          <Verdict key={verdict.words} {...verdict} />
        ))}
        {ride.isCorrected ? <span className="soft small">Corrected by hand</span> : null}
      </div>
    </Link>
  )
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
