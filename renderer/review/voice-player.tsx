import { Play, Square } from 'lucide-react'
import { useEffect, useRef, useState } from 'react'
import { type Voice, voiceSeconds, voiceType } from '../../analysis/review/voice.ts'
import { Button } from '../look/button.tsx'

/** Plays a recording as sound alone, of the kind that it begins as, whatever it says of itself. */
export function VoicePlayer({ voice }: { readonly voice: Voice }) {
  const audio = useRef<HTMLAudioElement>(null)
  const url = useRef<string | null>(null)
  const [state, setState] = useState<'still' | 'playing' | 'failed'>('still')
  const letGo = (): void => {
    if (url.current !== null) URL.revokeObjectURL(url.current)
    url.current = null
  }
  useEffect(() => letGo, [])
  const play = async (): Promise<void> => {
    const { current } = audio
    const file = soundFile(voice.sound)
    if (current === null || file === null) return setState('failed')
    letGo()
    url.current = URL.createObjectURL(file)
    current.src = url.current
    setState('playing')
    try {
      await current.play()
    } catch (error) {
      // Stopped before it began.
      if (!(error instanceof DOMException && error.name === 'AbortError')) setState('failed')
    }
  }
  const stop = (): void => {
    audio.current?.pause()
    setState('still')
  }
  return (
    <span className="voice-player">
      <audio ref={audio} onEnded={stop} onError={() => setState('failed')} />
      {state === 'playing' ? (
        <Button onPress={stop}>
          <Square aria-hidden="true" />
          Stop playing
        </Button>
      ) : (
        <Button onPress={() => void play()}>
          <Play aria-hidden="true" />
          Play, {voiceSeconds(voice.durationS)} s
        </Button>
      )}
      {state === 'failed' ? (
        <span className="small" role="alert">
          This recording cannot be played here: try another browser, or Tiphold.
        </span>
      ) : null}
    </span>
  )
}

function soundFile(sound: string): Blob | null {
  const type = voiceType(sound)
  if (type === null) return null
  try {
    return new Blob([Uint8Array.from(atob(sound), (letter) => letter.charCodeAt(0))], { type })
  } catch {
    return null
  }
}
