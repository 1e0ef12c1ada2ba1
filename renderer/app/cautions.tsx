import type { ReactNode } from 'react'
import { Button } from '../look/button.tsx'
import { useSettings } from './use-settings.ts'

export interface CautionProps {
  /** Kept in the settings once it was put away. */
  readonly name: string
  readonly title: string
  readonly children: ReactNode
}

/** A caution in its place: shown until it is put away, then never again. */
function Caution({ name, title, children }: CautionProps) {
  const { settings, isKnown, change } = useSettings()
  if (!isKnown || settings.cautionsRead.includes(name)) return null
  return (
    <section className="card caution" aria-label={title}>
      <h2>{title}</h2>
      {children}
      <Button onPress={() => change({ cautionsRead: [...settings.cautionsRead, name] })}>OK</Button>
    </section>
  )
}

/** What everyone should have read once before filming a dog on a board. */
export function FirstCautions() {
  return (
    <Caution name="first-start" title="Before you film">
      <ul>
        <li>A video measures a ride. It does not replace a coach, a judge or a vet.</li>
        <li>Never push or lure a frightened dog over the board. Let it leave, and come back another day.</li>
        <li>Start a young dog on a low board, and ask a coach before it meets a full drop.</li>
        <li>Keep hands, feet and leads clear of a moving board.</li>
        <li>Weigh the base down or peg it, so that it cannot creep or fall over.</li>
      </ul>
    </Caution>
  )
}
