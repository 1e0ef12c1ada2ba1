import { Mic, Square, Trash2 } from 'lucide-react'
import { VOICE_LIMITS } from '../../analysis/review/voice.ts'
import { Button, IconButton } from '../look/button.tsx'
import { Notice } from '../look/notice.tsx'
import type { Recorder } from './use-recorder.ts'
import { VoicePlayer } from './voice-player.tsx'

export interface VoiceRecorderProps {
  readonly recorder: Recorder
  /** Whether the ride's comments leave room for one more recording. */
  readonly hasRoom: boolean
}

/** Speaks a comment: record, stop, listen to it, delete it. */
export function VoiceRecorder({ recorder, hasRoom }: VoiceRecorderProps) {
  const { state, problem } = recorder
  return (
    <div className="compose-row" role="group" aria-label="Spoken comment">
      {state.kind === 'recording' ? (
        <>
          <Button onPress={recorder.stop}>
            <Square aria-hidden="true" />
            Stop
          </Button>
          <span className="recording-time" role="timer">
            {Math.floor(state.durationS)} s of {VOICE_LIMITS.durationS}
          </span>
        </>
      ) : state.kind === 'recorded' ? (
        <>
          <VoicePlayer voice={state.voice} />
          <IconButton label="Delete the recording" onPress={recorder.clear}>
            <Trash2 aria-hidden="true" />
          </IconButton>
          <p className="soft small">Your voice goes along with the comment.</p>
        </>
      ) : (
        <Button isDisabled={state.kind === 'starting' || !hasRoom} onPress={recorder.start}>
          <Mic aria-hidden="true" />
          Record
        </Button>
      )}
      {state.kind === 'starting' ? <p className="soft small">Allow the microphone if you are asked.</p> : null}
      {hasRoom ? null : (
        <p className="soft small">There is no room for more recordings on this ride: write your comment.</p>
      )}
      {problem === null ? null : <Notice tone="bad">{problem}</Notice>}
    </div>
  )
}
