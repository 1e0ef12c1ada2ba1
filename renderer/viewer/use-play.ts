import { useEffect, useEffectEvent } from 'react'
import { elementAt } from './element-at.ts'

export interface Play {
  /** Times of the frames, s of real time. */
  readonly ptsS: ArrayLike<number>
  readonly element: number
  /** Share of the true speed. */
  readonly speed: number
  readonly onElement: (element: number) => void
  readonly onEnd: () => void
}

/** Plays on from the element shown, each frame as long as it lasted in truth, slowed; a late picture is passed over. */
export function usePlay(isPlaying: boolean, play: Play): void {
  const begin = useEffectEvent(() => play.ptsS[play.element] ?? 0)
  const advance = useEffectEvent((atS: number): boolean => {
    const last = play.ptsS.length - 1
    const next = elementAt(play.ptsS, atS)
    if (next !== play.element) play.onElement(next)
    if (next < last) return true
    play.onEnd()
    return false
  })
  const { speed } = play
  useEffect(() => {
    if (!isPlaying) return
    const fromS = begin()
    let startMs: number | null = null
    let request = requestAnimationFrame(function tick(nowMs: number) {
      startMs ??= nowMs
      if (advance(fromS + ((nowMs - startMs) / 1000) * speed)) request = requestAnimationFrame(tick)
    })
    return () => cancelAnimationFrame(request)
  }, [isPlaying, speed])
}
