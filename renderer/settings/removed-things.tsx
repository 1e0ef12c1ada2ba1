import { Undo2 } from 'lucide-react'
import type { Removed } from '../../main/contract/bin.ts'
import { useCall, useChange } from '../host/use-call.ts'
import { momentInWords } from '../lists/verdict-words.ts'
import { Answer } from '../look/answer.tsx'
import { Button } from '../look/button.tsx'
import { Notice } from '../look/notice.tsx'

/** What was removed in the last 30 days, each with the way back. */
export function RemovedThings() {
  const bin = useCall('bin.list', {})
  const putBack = useChange('bin.putBack')
  return (
    <section className="settings-part" aria-labelledby="settings-removed">
      <h2 id="settings-removed">Removed</h2>
      <div className="stack">
        <Answer of={bin}>
          {(all) =>
            all.length === 0 ? (
              <p className="soft">Nothing. What you remove lies here for 30 days.</p>
            ) : (
              <ul className="removed-list" aria-label="Removed">
                {all.map((one) => (
                  <li key={one.removedId}>
                    <span>
                      <bdi>{one.name}</bdi>
                      <span className="soft small">{aboutInWords(one)}</span>
                    </span>
                    <Button
                      aria-label={`Put back ${one.name}`}
                      isDisabled={putBack.isPending}
                      onPress={() => putBack.mutate({ removedId: one.removedId })}
                    >
                      <Undo2 aria-hidden="true" />
                      Put back
                    </Button>
                  </li>
                ))}
              </ul>
            )
          }
        </Answer>
        {putBack.error === null ? null : <Notice tone="bad">{putBack.error.message}</Notice>}
      </div>
    </section>
  )
}

/** "Clip with its 2 rides, removed ..., kept until ..." */
function aboutInWords({ kind, rides, removedAt, keptUntil }: Removed): string {
  const what = kind.slice(0, 1).toUpperCase() + kind.slice(1)
  const along = rides === 0 ? '' : rides === 1 ? ' with 1 ride' : ` with ${rides} rides`
  return `${what}${along}, removed ${momentInWords(removedAt)}, kept until ${momentInWords(keptUntil)}`
}
