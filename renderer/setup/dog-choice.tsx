import { Plus } from 'lucide-react'
import { useState } from 'react'
import { useCall } from '../host/use-call.ts'
import { DogDialog } from '../lists/dog-dialog.tsx'
import { isYoung } from '../lists/young-dog.ts'
import { Button } from '../look/button.tsx'
import { SelectField } from '../look/fields.tsx'

export interface DogChoiceProps {
  readonly dogId: string | null
  readonly onChange: (dogId: string | null) => void
}

const NONE = 'none'

/** Which dog rides: one of the library, or a new one. */
export function DogChoice({ dogId, onChange }: DogChoiceProps) {
  const dogs = useCall('dogs.list', {}).data ?? []
  const [isNew, setIsNew] = useState(false)
  const dog = dogs.find(({ id }) => id === dogId)
  const isGrowing = dog !== undefined && isYoung(dog.bornInMonth ?? '', new Date())
  return (
    <div className="choose-or-create">
      <SelectField
        label="Dog"
        options={[{ key: NONE, name: 'No dog' }, ...dogs.map(({ id, name }) => ({ key: id, name }))]}
        selected={dog?.id ?? NONE}
        onSelect={(key) => onChange(key === NONE ? null : key)}
        {...(isGrowing ? { hint: 'Still growing: a low board first, and ask a coach before any full drop.' } : {})}
      />
      <Button onPress={() => setIsNew(true)}>
        <Plus aria-hidden="true" />
        New dog
      </Button>
      {isNew ? <DogDialog dog={null} onClose={() => setIsNew(false)} onKept={({ id }) => onChange(id)} /> : null}
    </div>
  )
}
