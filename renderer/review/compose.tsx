import { Eraser } from 'lucide-react'
import { useState } from 'react'
import { CORRECTABLE_EVENTS, type CorrectableEvent } from '../../analysis/ride/corrections.ts'
import type { ReviewAuthor, ReviewItem, StrokeShape } from '../../analysis/review/review-item.ts'
import { whenInWords } from '../../analysis/review/review-words.ts'
import { EVENT_NAMES } from '../../analysis/words/event-names.ts'
import { fixed } from '../../analysis/words/in-words.ts'
import { Button, IconButton } from '../look/button.tsx'
import { Choice } from '../look/choice.tsx'
import { SelectField, TextField } from '../look/fields.tsx'
import { type CommentPlace, commentTimes, type Drawing, withoutLastStroke } from './drawing.ts'
import { newHead } from './new-item.ts'
import { useRecorder } from './use-recorder.ts'
import { VoiceRecorder } from './voice-recorder.tsx'

export interface ComposeProps {
  readonly author: ReviewAuthor
  /** The moment of the picture that is shown, s. */
  readonly shownS: number
  readonly tool: StrokeShape | null
  readonly onTool: (tool: StrokeShape | null) => void
  readonly drawing: Drawing | null
  readonly onDrawing: (drawing: Drawing | null) => void
  readonly onItem: (item: ReviewItem) => void
  /** Whether the ride's comments leave room for one more recording. */
  readonly hasRoomForVoice: boolean
  /** Handlers ask, coaches suggest. */
  readonly role: 'handler' | 'coach'
}

const TOOLS: readonly { readonly key: StrokeShape | 'none'; readonly name: string }[] = [
  { key: 'none', name: 'None' },
  { key: 'line', name: 'Line' },
  { key: 'arrow', name: 'Arrow' },
  { key: 'freehand', name: 'Freehand' },
  { key: 'angle', name: 'Angle' },
]

/** Where a comment, a drawing, a question or a suggestion is made. */
export function Compose(props: ComposeProps) {
  const { author, shownS, tool, onTool, drawing, onDrawing, onItem, hasRoomForVoice, role } = props
  const recorder = useRecorder()
  const isRecording = recorder.state.kind === 'starting' || recorder.state.kind === 'recording'
  const spoken = recorder.state.kind === 'recorded' ? { voice: recorder.state.voice } : {}
  const [text, setText] = useState('')
  const [place, setPlace] = useState<CommentPlace>('moment')
  const [fromS, setFromS] = useState<number | null>(null)
  const { atS, toS } = commentTimes(place, shownS, fromS, drawing)
  const isEmpty = text.trim() === '' && drawing === null && recorder.state.kind !== 'recorded'
  const choosePlace = (next: CommentPlace): void => {
    setPlace(next)
    setFromS(next === 'span' ? shownS : null)
  }
  const clear = (): void => {
    setText('')
    onDrawing(null)
    onTool(null)
    choosePlace('moment')
  }
  const comment = (): void => {
    const said = { text: text.trim(), strokes: [...(drawing?.strokes ?? [])], ...spoken }
    onItem({ ...newHead(author), kind: 'comment', atS, toS, ...said })
    recorder.clear()
    clear()
  }
  const ask = (): void => {
    onItem({ ...newHead(author), kind: 'question', atS, text: text.trim() })
    clear()
  }
  return (
    <section className="compose" aria-label="New comment">
      <TextField label="Comment" lines="several" value={text} onChange={setText} maxLength={4000} />
      <VoiceRecorder recorder={recorder} hasRoom={hasRoomForVoice} />
      <Choice
        label="About"
        options={[
          { key: 'moment', name: `At ${fixed(drawing?.atS ?? shownS, 2)} s` },
          {
            key: 'span',
            name: place === 'span' ? `From ${whenInWords(atS, toS)}` : 'From here on',
          },
          { key: 'ride', name: 'Whole ride' },
        ]}
        selected={place}
        onSelect={choosePlace}
        hint={place === 'span' ? 'Step or play to the end of the span.' : undefined}
      />
      <div className="compose-row">
        <Choice
          label="Draw on the picture"
          options={TOOLS}
          selected={tool ?? 'none'}
          onSelect={(key) => onTool(key === 'none' ? null : key)}
          hint={
            drawing !== null && drawing.atS !== shownS
              ? `You drew at ${fixed(drawing.atS, 2)} s: add the comment, or go back there to draw more.`
              : tool === 'angle'
                ? 'Three presses; the second one is the corner.'
                : undefined
          }
        />
        {drawing === null ? null : (
          <IconButton label="Take the last stroke away" onPress={() => onDrawing(withoutLastStroke(drawing))}>
            <Eraser aria-hidden="true" />
          </IconButton>
        )}
      </div>
      <div className="compose-row">
        <Button look="primary" isDisabled={isEmpty || isRecording} onPress={comment}>
          Add comment
        </Button>
        {role === 'handler' ? (
          <Button isDisabled={text.trim() === ''} onPress={ask}>
            Ask the coach
          </Button>
        ) : null}
        {isEmpty ? <p className="soft small">Write or speak, or draw on the picture.</p> : null}
      </div>
      {role === 'coach' ? <Suggest author={author} shownS={shownS} text={text} onItem={onItem} onDone={clear} /> : null}
    </section>
  )
}

interface SuggestProps extends Pick<ComposeProps, 'author' | 'shownS' | 'onItem'> {
  readonly text: string
  readonly onDone: () => void
}

function Suggest({ author, shownS, text, onItem, onDone }: SuggestProps) {
  const [event, setEvent] = useState<CorrectableEvent | null>(null)
  const suggest = (to: { kind: 'at'; atS: number } | { kind: 'did-not-happen' }): void => {
    if (event === null) return
    onItem({ ...newHead(author), kind: 'suggestion', event, to, text: text.trim() })
    setEvent(null)
    onDone()
  }
  return (
    <div className="compose-row" role="group" aria-label="Suggest another moment">
      <SelectField
        label="Suggest another moment for"
        options={CORRECTABLE_EVENTS.map((key) => ({ key, name: EVENT_NAMES[key].name }))}
        selected={event}
        onSelect={setEvent}
      />
      {event === null ? null : (
        <>
          <Button onPress={() => suggest({ kind: 'at', atS: shownS })}>It is here, {fixed(shownS, 3)} s</Button>
          <Button look="quiet" onPress={() => suggest({ kind: 'did-not-happen' })}>
            It did not happen
          </Button>
        </>
      )}
    </div>
  )
}
