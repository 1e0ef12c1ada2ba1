import { useEffect, useRef, useState } from 'react'
import type { Voice } from '../../analysis/review/voice.ts'
import { RecordingProblem, type RunningRecording, startRecording } from './record-voice.ts'

export type RecorderState =
  | { readonly kind: 'empty' }
  /** The browser asks for the microphone. */
  | { readonly kind: 'starting' }
  | { readonly kind: 'recording'; readonly durationS: number }
  | { readonly kind: 'recorded'; readonly voice: Voice }

export interface Recorder {
  readonly state: RecorderState
  readonly problem: string | null
  readonly start: () => void
  readonly stop: () => void
  /** Takes the recording away. */
  readonly clear: () => void
}

/** One recording that is being made; the microphone is let go with the screen. */
export function useRecorder(): Recorder {
  const [state, setState] = useState<RecorderState>({ kind: 'empty' })
  const [problem, setProblem] = useState<string | null>(null)
  const running = useRef<RunningRecording | null>(null)
  const isThere = useRef(false)
  useEffect(() => {
    isThere.current = true
    return () => {
      isThere.current = false
      running.current?.abandon()
    }
  }, [])
  const record = async (): Promise<void> => {
    setProblem(null)
    setState({ kind: 'starting' })
    try {
      const recording = await startRecording((durationS) => setState({ kind: 'recording', durationS }))
      running.current = recording
      if (isThere.current) setState({ kind: 'recording', durationS: 0 })
      else recording.abandon()
      const voice = await recording.voice
      setState(voice === null ? { kind: 'empty' } : { kind: 'recorded', voice })
    } catch (error) {
      setState({ kind: 'empty' })
      setProblem(
        error instanceof RecordingProblem ? error.message : 'Recording does not work here: write your comment.',
      )
    } finally {
      running.current = null
    }
  }
  return {
    state,
    problem,
    start: () => void record(),
    stop: () => running.current?.stop(),
    clear: () => setState({ kind: 'empty' }),
  }
}
