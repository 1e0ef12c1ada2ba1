import './packs.css'
import { Link } from 'react-router'
import type { PackCard } from '../../main/contract/review.ts'
import { momentInWords } from '../lists/verdict-words.ts'
import { useCall } from '../host/use-call.ts'
import { Answer } from '../look/answer.tsx'
import { packName } from '../../analysis/review/pack-name.ts'
import { OpenFile } from './open-file.tsx'

/** Packs that students sent, a folder for each of them; apart from one's own dogs. */
export function Packs() {
  const packs = useCall('packs.list', {})
  return (
    <div className="screen">
      <title>Coaching, Tiphold</title>
      <div className="screen-head">
        <h1>Coaching</h1>
      </div>
      <div className="packs-about">
        <p className="soft">
          Rides that others sent you to look at. To send one of your own, open it and press Share. Open your coach’s
          reply here, too: it then shows on the ride.
        </p>
      </div>
      <OpenFile />
      <Answer of={packs}>
        {(all) =>
          all.length === 0 ? (
            <p className="nothing">Nobody has sent you a ride yet.</p>
          ) : (
            folders(all).map(([student, cards]) => (
              <section key={student} className="packs-folder" aria-label={student}>
                <h2>
                  <bdi>{student}</bdi>
                </h2>
                <ul>
                  {cards.map((card) => (
                    <li key={card.id}>
                      <Link to={`/packs/${card.id}`} className="pack-link">
                        <strong>
                          <bdi>{packName(card)}</bdi>
                        </strong>
                        <span className="soft small">
                          opened {momentInWords(card.openedAt)}, {countInWords(card)}
                        </span>
                      </Link>
                    </li>
                  ))}
                </ul>
              </section>
            ))
          )
        }
      </Answer>
    </div>
  )
}

function countInWords({ questions, comments }: PackCard): string {
  const counted = (count: number, word: string): string => (count === 1 ? `1 ${word}` : `${count || 'no'} ${word}s`)
  return `${counted(questions, 'question')}, ${counted(comments, 'comment')}`
}

function folders(cards: readonly PackCard[]): readonly (readonly [string, readonly PackCard[]])[] {
  const byStudent = new Map<string, PackCard[]>()
  for (const card of cards) byStudent.set(card.student, [...(byStudent.get(card.student) ?? []), card])
  return [...byStudent].sort(([a], [b]) => a.localeCompare(b, 'en'))
}
