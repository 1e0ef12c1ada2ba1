import '../review/review.css'
import { useState } from 'react'
import { withEvent } from '../../analysis/ride/corrections.ts'
import type { ReviewSuggestion } from '../../analysis/review/review-item.ts'
import { hasRoomForVoice } from '../../analysis/review/voice-room.ts'
import { TextField } from '../look/fields.tsx'
import { Notice } from '../look/notice.tsx'
import { Compose } from '../review/compose.tsx'
import { newHead } from '../review/new-item.ts'
import { Remarks } from '../review/remarks.tsx'
import type { Commenting } from './use-commenting.tsx'
import type { RideEditing } from './use-ride-editing.ts'

export interface RideCommentsProps {
  readonly commenting: Commenting
  readonly editing: RideEditing
  readonly shownS: number
  readonly onShow: (atS: number) => void
}

/** What was said of the handler's own ride. A suggestion that she accepts is a correction like any other. */
export function RideComments({ commenting, editing, shownS, onShow }: RideCommentsProps) {
  const { author, review, put, problem } = commenting
  const [typed, setTyped] = useState<string | null>(null)
  if (author === null) return null
  const answer = (suggestion: ReviewSuggestion, verdict: 'accepted' | 'refused'): void => {
    if (verdict === 'accepted') editing.change((now) => withEvent(now, suggestion.event, { ...suggestion.to }))
    put({ ...newHead(author), kind: 'answer', about: suggestion.id, verdict })
  }
  return (
    <div className="ride-comments">
      {problem === null ? null : <Notice tone="bad">{problem}</Notice>}
      <Remarks review={review} ownId={author.id} onShow={onShow} onItem={put} onAnswer={answer} />
      {author.name === '' ? (
        <TextField
          label="Your name"
          hint="Stands beside what you write."
          value={typed ?? ''}
          onChange={setTyped}
          onBlur={() => commenting.setName((typed ?? '').trim())}
          maxLength={80}
        />
      ) : null}
      <Compose
        author={author}
        shownS={shownS}
        tool={commenting.tool}
        onTool={commenting.setTool}
        drawing={commenting.drawing}
        onDrawing={commenting.setDrawing}
        onItem={put}
        hasRoomForVoice={hasRoomForVoice(review.comments)}
        role="handler"
      />
    </div>
  )
}
