import { VOICE_LIMITS, type Voice, voiceType } from '../../analysis/review/voice.ts'

/** A recording that goes on. */
export interface RunningRecording {
  /** Ends it and keeps what was spoken. */
  readonly stop: () => void
  /** Ends it and keeps nothing. */
  readonly abandon: () => void
  /** What was spoken, once it is ended; null where it was abandoned. Fails with a `RecordingProblem`. */
  readonly voice: Promise<Voice | null>
}

/** Why nothing is recorded. The message is one sentence: what is wrong and what to do. */
export class RecordingProblem extends Error {}

/** Plenty for a voice; a browser may take more. */
const BITS_PER_S = 32_000
/** Browsers record one or the other, and play what they record. */
const TYPES = ['audio/webm;codecs=opus', 'audio/ogg;codecs=opus', 'audio/mp4']
/** What a second more and the end of a file may take beyond the last look at its size. */
const RESERVE_BYTES = 100_000
const MOST_BYTES = VOICE_LIMITS.letters * 0.75 - RESERVE_BYTES
const TICK_MS = 250
const CHUNK_MS = 1000

/**
 * Asks for the microphone and records until it is stopped, or has as much as a comment may hold.
 *
 * @param onTime told how long it is, s
 */
export async function startRecording(onTime: (durationS: number) => void): Promise<RunningRecording> {
  const stream = await microphone()
  try {
    return recordingOf(stream, onTime)
  } catch (error) {
    release(stream)
    throw error
  }
}

function recordingOf(stream: MediaStream, onTime: (durationS: number) => void): RunningRecording {
  const mimeType = TYPES.find((type) => MediaRecorder.isTypeSupported(type))
  if (mimeType === undefined) throw new RecordingProblem(CANNOT)
  const recorder = new MediaRecorder(stream, { mimeType, audioBitsPerSecond: BITS_PER_S })
  const parts: Blob[] = []
  let isAbandoned = false
  recorder.start(CHUNK_MS)
  const startedMs = performance.now()
  const durationS = (): number => Math.min(VOICE_LIMITS.durationS, (performance.now() - startedMs) / 1000)
  const stop = (): void => {
    if (recorder.state !== 'inactive') recorder.stop()
  }
  const clock = setInterval(() => {
    onTime(durationS())
    if (durationS() >= VOICE_LIMITS.durationS) stop()
  }, TICK_MS)
  const voice = new Promise<Voice | null>((resolve, reject) => {
    recorder.ondataavailable = ({ data }) => {
      parts.push(data)
      if (sizeOf(parts) > MOST_BYTES) stop()
    }
    // Also after a fault, or when the microphone is unplugged: what there is by then is kept.
    recorder.onstop = () => {
      const lengthS = durationS()
      clearInterval(clock)
      release(stream)
      if (isAbandoned) resolve(null)
      else voiceOf(new Blob(parts, { type: mimeType }), lengthS).then(resolve, reject)
    }
  })
  return {
    stop,
    abandon: () => {
      isAbandoned = true
      stop()
    },
    voice,
  }
}

const CANNOT = 'This browser cannot record: write your comment, or open the pack in Tiphold.'

async function microphone(): Promise<MediaStream> {
  // Browsers leave both out where a page may not record, whatever their types say.
  const devices = navigator.mediaDevices as MediaDevices | undefined
  if (devices === undefined || !('MediaRecorder' in window)) throw new RecordingProblem(CANNOT)
  try {
    return await devices.getUserMedia({ audio: true, video: false })
  } catch (error) {
    throw new RecordingProblem(microphoneFault(error instanceof DOMException ? error.name : ''))
  }
}

/** Names of Media Capture and Streams (W3C), 10.2, getUserMedia. */
function microphoneFault(name: string): string {
  switch (name) {
    case 'NotAllowedError':
    case 'SecurityError':
      return 'The microphone is not allowed here: allow it in the settings of your browser or computer, or write your comment.'
    case 'NotFoundError':
      return 'No microphone was found: plug one in, or write your comment.'
    default:
      return 'The microphone does not answer: close other programs that use it, or write your comment.'
  }
}

async function voiceOf(file: Blob, durationS: number): Promise<Voice> {
  const sound = await base64Of(file)
  if (file.size === 0 || voiceType(sound) === null) {
    throw new RecordingProblem('Nothing was recorded: try again, or write your comment.')
  }
  if (sound.length > VOICE_LIMITS.letters) {
    throw new RecordingProblem('This recording takes too much room: record a shorter one.')
  }
  return { durationS: Math.max(0.1, Math.round(durationS * 10) / 10), sound }
}

function base64Of(file: Blob): Promise<string> {
  return new Promise((resolve, reject) => {
    const reader = new FileReader()
    reader.onload = () => {
      // A data: URL, as readAsDataURL makes it.
      const url = reader.result as string
      resolve(url.slice(url.indexOf(',') + 1))
    }
    reader.onerror = () => reject(new RecordingProblem('The recording could not be kept: try again.'))
    reader.readAsDataURL(file)
  })
}

function release(stream: MediaStream): void {
  for (const track of stream.getTracks()) track.stop()
}

function sizeOf(parts: readonly Blob[]): number {
  return parts.reduce((sum, { size }) => sum + size, 0)
}
