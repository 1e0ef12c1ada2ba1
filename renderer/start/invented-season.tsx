import { useCall, useChange } from '../host/use-call.ts'
import { useNavigate } from 'react-router'
import { Button, ButtonLink } from '../look/button.tsx'
import { Notice } from '../look/notice.tsx'

/** A season of three invented dogs, to see what many rides say together. */
export function InventedSeason() {
  const season = useCall('samples.season', {}).data
  const takeIn = useChange('samples.takeInSeason')
  const navigate = useNavigate()
  if (season === undefined || !season.isThere) return null
  return (
    <section aria-label="An invented season" className="stack">
      <h2>An invented season</h2>
      <p className="soft">
        Three dogs, four boards, sixty rides over a summer, all invented: see what many rides say together. Remove the
        dogs, and their rides are gone.
      </p>
      <div className="season-dogs">
        {season.dogs.length === 0 ? (
          <Button
            isDisabled={takeIn.isPending}
            onPress={() =>
              takeIn.mutate(
                {},
                { onSuccess: ([first]) => void navigate(first === undefined ? '/dogs' : `/dogs/${first.id}`) },
              )
            }
          >
            Open the invented season
          </Button>
        ) : (
          season.dogs.map(({ id, name }) => (
            <ButtonLink key={id} to={`/dogs/${id}`}>
              {name}
            </ButtonLink>
          ))
        )}
      </div>
      {takeIn.error === null ? null : <Notice tone="bad">{takeIn.error.message}</Notice>}
    </section>
  )
}
