import './lists.css'
import { Plus } from 'lucide-react'
import { useState } from 'react'
import type { Dog } from '../../main/contract/dogs-and-boards.ts'
import { useRemove } from '../app/removals.tsx'
import { useSettings } from '../app/use-settings.ts'
import { useCall } from '../host/use-call.ts'
import { Answer } from '../look/answer.tsx'
import { Button, ButtonLink } from '../look/button.tsx'
import { DogDialog } from './dog-dialog.tsx'
import { KeptList } from './kept-list.tsx'
import { lengthUnit, massUnit, shownIn } from './lengths.ts'

/** The dogs of the library. */
export function Dogs() {
  const dogs = useCall('dogs.list', {})
  const counts = useCall('rides.count', {}).data?.dogs ?? null
  const remove = useRemove('dogs.remove')
  const { units } = useSettings().settings
  const [open, setOpen] = useState<Dog | 'new' | null>(null)

  function about({ withersM, massKg, bornInMonth, note }: Dog): string {
    const facts = [
      withersM === null ? '' : `${shownIn(lengthUnit(units), withersM)} at the withers`,
      massKg === null ? '' : shownIn(massUnit(units), massKg),
      bornInMonth === null ? '' : `born ${monthInWords(bornInMonth)}`,
    ]
    return [facts.filter((part) => part !== '').join(', '), note].filter((part) => part !== '').join('. ')
  }

  return (
    <div className="screen">
      <title>Dogs, Tiphold</title>
      <div className="screen-head">
        <h1>Dogs</h1>
        <div className="head-actions">
          <ButtonLink to="/attention">Who needs attention</ButtonLink>
          <Button look="primary" onPress={() => setOpen('new')}>
            <Plus aria-hidden="true" />
            New dog
          </Button>
        </div>
      </div>
      <Answer of={dogs}>
        {(all) =>
          all.length === 0 ? (
            <p className="nothing">No dogs yet. Name your dog to keep its rides together and follow its progress.</p>
          ) : (
            <KeptList
              what="dog"
              items={all.map((dog) => ({ id: dog.id, name: dog.name, about: about(dog), page: `/dogs/${dog.id}` }))}
              counts={counts}
              onChange={(id) => setOpen(all.find((dog) => dog.id === id) ?? null)}
              onRemove={(id) => remove.mutate({ id })}
              removal="Its filmed rides stay, but no longer under its name. Its rides without a film go."
              failure={remove.error?.message ?? null}
            />
          )
        }
      </Answer>
      {open === null ? null : <DogDialog dog={open === 'new' ? null : open} onClose={() => setOpen(null)} />}
    </div>
  )
}

function monthInWords(month: string): string {
  return new Intl.DateTimeFormat(undefined, { month: 'long', year: 'numeric' }).format(new Date(`${month}-15`))
}
