import '../lists/lists.css'
import './season.css'
import { Link } from 'react-router'
import { basisInWords, type Need } from '../../analysis/progress/attention.ts'
import { useCall } from '../host/use-call.ts'
import { Verdict } from '../lists/ride-card.tsx'
import { Answer } from '../look/answer.tsx'
import { ButtonLink } from '../look/button.tsx'

const NEEDS: Readonly<Record<Need, { readonly tone: 'good' | 'bad' | 'unsure'; readonly words: string }>> = {
  look: { tone: 'bad', words: 'Needs a look' },
  'may-be': { tone: 'unsure', words: 'May need a look' },
  fine: { tone: 'good', words: 'Fine so far' },
  'too-few': { tone: 'unsure', words: 'Too few rides to say' },
}

/** A coach's page: all dogs, by what is known of them and not by how loud the last ride was. */
export function AttentionScreen() {
  const dogs = useCall('seasons.whoNeedsAttention', {})
  return (
    <div className="screen season">
      <title>Who needs attention, Tiphold</title>
      <div className="screen-head">
        <h1>Who needs attention</h1>
        <ButtonLink to="/dogs">All dogs</ButtonLink>
      </div>
      <Answer of={dogs} doing="Working the rides out">
        {(lines) =>
          lines.length === 0 ? (
            <p className="nothing">No dogs yet.</p>
          ) : (
            <ol className="attention">
              {lines.map((line) => (
                <li key={line.dogId} className="card">
                  <div>
                    <Link to={`/dogs/${line.dogId}`}>
                      <strong>{line.dog}</strong>
                    </Link>
                    <Verdict {...NEEDS[line.need]} />
                  </div>
                  <div>
                    {line.reasons.map((reason) => (
                      <p key={reason}>{reason}</p>
                    ))}
                    {line.reasons.length === 0 ? <p className="soft">Nothing measured yet.</p> : null}
                  </div>
                  <span className="soft small">{basisInWords(line)}</span>
                </li>
              ))}
            </ol>
          )
        }
      </Answer>
      <p className="soft">
        The newest 20 filmed rides of each dog count. “Needs a look” means that more than one ride in ten surely goes
        wrong, or that the dog surely leaves sooner from month to month; these limits are ours. You know your dogs
        better.
      </p>
    </div>
  )
}
