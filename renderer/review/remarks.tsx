import { MessageCircleQuestion, MessageSquare, Mic, Pencil, TimerReset, Trash2 } from 'lucide-react'
import type { ReactNode } from 'react'
import type { Review } from '../../analysis/review/read-review.ts'
import type { ReviewComment, ReviewItem, ReviewSuggestion } from '../../analysis/review/review-item.ts'
import { suggestionInWords, whenInWords } from '../../analysis/review/review-words.ts'
import { Button, IconButton } from '../look/button.tsx'
import { takenBack } from './new-item.ts'
import { VoicePlayer } from './voice-player.tsx'

export interface RemarksProps {
  readonly review: Review
  /** Who looks at it: may take back what is her own. */
  readonly ownId: string
  /** Shows a moment, s. */
  readonly onShow: (atS: number) => void
  readonly onItem: (item: ReviewItem) => void
  /** What the handler does with a suggestion; null where she is not the one who looks. */
  readonly onAnswer: ((suggestion: ReviewSuggestion, verdict: 'accepted' | 'refused') => void) | null
}

/** Everything that was said of a ride, each where it belongs in time. */
export function Remarks({ review, ownId, onShow, onItem, onAnswer }: RemarksProps) {
  const { questions, comments, suggestions, unknown, nameOf } = review
  if (questions.length + comments.length + suggestions.length + unknown === 0) {
    return <p className="soft">No comments yet.</p>
  }
  const takeBack = (item: ReviewItem): ReactNode =>
    item.author.id === ownId ? (
      <IconButton label="Take back" onPress={() => onItem(takenBack(item))}>
        <Trash2 aria-hidden="true" />
      </IconButton>
    ) : null
  return (
    <ul className="remarks" aria-label="Comments">
      {questions.map((one) => (
        <li key={one.id} className="remark" data-kind="question">
          <MessageCircleQuestion aria-label="Question" />
          <Said who={nameOf(one.author)} when={<When atS={one.atS} toS={null} onShow={onShow} />} text={one.text} />
          {takeBack(one)}
        </li>
      ))}
      {comments.map((one) => (
        <li key={one.id} className="remark">
          <CommentIcon comment={one} />
          <Said
            who={nameOf(one.author)}
            when={<When atS={one.atS} toS={one.toS} onShow={onShow} />}
            text={one.text === '' && one.strokes.length > 0 ? 'A drawing on the picture.' : one.text}
          />
          {one.voice === undefined ? null : <VoicePlayer voice={one.voice} />}
          {takeBack(one)}
        </li>
      ))}
      {suggestions.map(({ suggestion, verdict }) => (
        <li key={suggestion.id} className="remark" data-kind="suggestion">
          <TimerReset aria-label="Suggestion" />
          <Said
            who={nameOf(suggestion.author)}
            when={suggestion.to.kind === 'at' ? <When atS={suggestion.to.atS} toS={null} onShow={onShow} /> : null}
            text={[suggestionInWords(suggestion), suggestion.text].filter((part) => part !== '').join('. ')}
          />
          {verdict !== null ? (
            <span className="small soft">{verdict === 'accepted' ? 'Accepted' : 'Refused'}</span>
          ) : null}
          {onAnswer !== null && verdict === null ? (
            <span className="remark-answers">
              <Button onPress={() => onAnswer(suggestion, 'accepted')}>Accept</Button>
              <Button look="quiet" onPress={() => onAnswer(suggestion, 'refused')}>
                Refuse
              </Button>
            </span>
          ) : null}
          {takeBack(suggestion)}
        </li>
      ))}
      {unknown === 0 ? null : (
        <li className="remark soft">
          {unknown === 1 ? 'One more was' : `${unknown} more were`} made by a newer Tiphold: update Tiphold to see it
          all.
        </li>
      )}
    </ul>
  )
}

function CommentIcon({ comment: { strokes, voice } }: { readonly comment: ReviewComment }) {
  if (strokes.length > 0) return <Pencil aria-label="Drawing" />
  return voice === undefined ? <MessageSquare aria-label="Comment" /> : <Mic aria-label="Spoken comment" />
}

function Said({ who, when, text }: { readonly who: string; readonly when: ReactNode; readonly text: string }) {
  return (
    <div className="remark-said">
      <p className="small soft">
        <bdi>{who}</bdi>
        {when === null ? null : <> · {when}</>}
      </p>
      {text === '' ? null : (
        <p className="remark-text" dir="auto">
          {text}
        </p>
      )}
    </div>
  )
}

interface WhenProps {
  readonly atS: number | null
  readonly toS: number | null
  readonly onShow: (atS: number) => void
}

function When({ atS, toS, onShow }: WhenProps) {
  const words = whenInWords(atS, toS)
  if (atS === null) return <span>{words}</span>
  return (
    <button type="button" className="remark-when" onClick={() => onShow(atS)}>
      {words}
    </button>
  )
}
