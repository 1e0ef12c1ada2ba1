import '../lists/lists.css'
import './season.css'
import { useState } from 'react'
import { useNavigate } from 'react-router'
import { leftEarlyOf, type NotedRide } from '../../main/contract/noted-rides.ts'
import type { DogSeason } from '../../main/contract/seasons.ts'
import { isMeasured, quantityInWords } from '../../analysis/words/in-words.ts'
import { MEASURES } from '../../analysis/progress/measure-words.ts'
import { figureName, shiftOf } from '../../analysis/progress/report-words.ts'
import { rideInWords } from '../../analysis/progress/ride-words.ts'
import { useRemove } from '../app/removals.tsx'
import { useCall } from '../host/use-call.ts'
import { SessionDialog } from '../lists/session-dialog.tsx'
import { dayInWords } from '../lists/verdict-words.ts'
import { Answer } from '../look/answer.tsx'
import { Button, ButtonLink } from '../look/button.tsx'
import { Confirm } from '../look/dialog.tsx'
import { Notice } from '../look/notice.tsx'
import { ByHandDialog } from './by-hand-dialog.tsx'

/** A ride without its film: what is known of it, and where that comes from. */
export function NotedScreen({ id }: { readonly id: string }) {
  const noted = useCall('noted.get', { id })
  return (
    <div className="screen season">
      <Answer of={noted}>{(ride) => <Noted ride={ride} />}</Answer>
    </div>
  )
}

const ORIGINS: Readonly<Record<NotedRide['origin'], string>> = {
  'by-hand': 'Entered by hand: it is in none of the measured numbers.',
  file: 'Measured elsewhere and read from a file: there is no film of it here.',
  invented: 'Invented, to try the program on: there is no film of it, and no dog ever rode it.',
}

function Noted({ ride }: { readonly ride: NotedRide }) {
  const { id, dogId, session, note, origin } = ride
  const navigate = useNavigate()
  const remove = useRemove('noted.remove')
  const [open, setOpen] = useState<'change' | 'session' | 'remove' | null>(null)
  const dog = useCall('dogs.list', {}).data?.find((one) => one.id === dogId)
  const season = useCall('seasons.get', { dogId: dogId ?? '' }, { enabled: dogId !== null }).data
  const day = session.day === null ? 'Day not known' : dayInWords(session.day)
  const about = [session.venue, session.surface, session.weather, session.handler, ...session.tags].filter(Boolean)
  return (
    <>
      <title>{`${dog?.name ?? 'Ride'}, ${day}, Tiphold`}</title>
      <div className="screen-head">
        <h1>
          {dog?.name ?? 'A ride'}, {day}
        </h1>
        <div className="head-actions">
          {origin === 'by-hand' ? <Button onPress={() => setOpen('change')}>Change</Button> : null}
          <Button onPress={() => setOpen('session')}>Session</Button>
          <Button onPress={() => setOpen('remove')}>Remove</Button>
          {dogId === null ? null : <ButtonLink to={`/dogs/${dogId}`}>Back to {dog?.name ?? 'the dog'}</ButtonLink>}
        </div>
      </div>
      <Notice>{ORIGINS[origin]}</Notice>
      <div className="season-part">
        {origin === 'by-hand' ? <p>{BY_HAND[leftEarlyOf(ride)]}</p> : null}
        {about.length === 0 ? null : <p className="soft">{about.join(', ')}</p>}
        {note === '' ? null : <p>{note}</p>}
      </div>
      {season === undefined ? null : <NotedNumbers season={season} rideId={id} />}
      {remove.error === null ? null : <Notice tone="bad">{remove.error.message}</Notice>}
      {open === 'change' && dogId !== null ? (
        <ByHandDialog dogId={dogId} ride={ride} onClose={() => setOpen(null)} />
      ) : null}
      {open === 'session' ? <SessionDialog rideIds={[id]} onClose={() => setOpen(null)} /> : null}
      {open === 'remove' ? (
        <Confirm
          title="Remove this ride?"
          doIt="Remove"
          onDoIt={() =>
            remove.mutate({ id }, { onSuccess: () => void navigate(dogId === null ? '/dogs' : `/dogs/${dogId}`) })
          }
          onClose={() => setOpen(null)}
        >
          It can be put back for 30 days.
        </Confirm>
      ) : null}
    </>
  )
}

const BY_HAND = {
  yes: 'Left before the board had landed.',
  no: 'Stayed until the board had landed.',
  unknown: 'Whether it left early was not said.',
} as const

function NotedNumbers({ season: { season, rides }, rideId }: { readonly season: DogSeason; readonly rideId: string }) {
  const ride = season.rides[rides.findIndex((one) => one.rideId === rideId)]
  if (ride === undefined || ride.byHand) return null
  const rows = Object.entries(ride.measures).flatMap(([measure, estimate]) => {
    const words = MEASURES[measure]
    if (words === undefined) return []
    const shown = (value: number) => quantityInWords(value - shiftOf(measure), words.unit)
    const text = isMeasured(estimate)
      ? `${shown(estimate.value)}, between ${shown(estimate.ci95[0])} and ${shown(estimate.ci95[1])}`
      : estimate.kind === 'atLeast'
        ? `at least ${shown(estimate.value)}`
        : `not measured${estimate.detail === '' ? '' : `: ${estimate.detail}`}`
    return [{ measure, text }]
  })
  return (
    <section className="season-part" aria-labelledby="noted-numbers">
      <h2 id="noted-numbers">Numbers</h2>
      <p>{rideInWords(ride)}.</p>
      <table className="groups">
        <tbody>
          {rows.map(({ measure, text }) => (
            <tr key={measure}>
              <th scope="row">{figureName(measure)}</th>
              <td>{text}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}
