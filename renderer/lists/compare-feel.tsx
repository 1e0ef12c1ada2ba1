import { useState } from 'react'
import type { KeptBoard } from '../../main/contract/dogs-and-boards.ts'
import { fixed, marginInWords } from '../../analysis/words/in-words.ts'
import { type FeltBoard, TwoBoards } from '../figures/two-boards.tsx'
import { SelectField } from '../look/fields.tsx'
import { useFeels } from './board-feels.ts'

/** Two tested boards laid over one another, for dogs that go from one to the other. */
export function CompareFeel({ boards }: { readonly boards: readonly KeptBoard[] }) {
  const feels = useFeels()
  const felt = boards.flatMap(({ id, name, shape: { lengthM } }) => {
    const feel = feels.get(id)
    return feel?.feelS.kind === 'measured' ? [{ id, name, lengthM, feel }] : []
  })
  const [chosen, setChosen] = useState<readonly [string | null, string | null]>([null, null])
  if (felt.length < 2) return null
  const one = felt.find(({ id }) => id === chosen[0]) ?? felt[0]!
  const other = felt.find(({ id }) => id === chosen[1] && id !== one.id) ?? felt.find(({ id }) => id !== one.id)!
  const options = felt.map(({ id, name }) => ({ key: id, name }))
  return (
    <section className="stack compare-feel" aria-labelledby="compare-feel">
      <h2 id="compare-feel">How two boards feel</h2>
      <div className="filters">
        <SelectField
          label="First board"
          options={options}
          selected={one.id}
          onSelect={(id) => setChosen([id, other.id === id ? one.id : other.id])}
        />
        <SelectField
          label="Second board"
          options={options.filter(({ key }) => key !== one.id)}
          selected={other.id}
          onSelect={(id) => setChosen([one.id, id])}
        />
      </div>
      <TwoBoards boards={[one, other]} />
      <p className="soft">
        {feelText(one)} {feelText(other)} Feel is the time from the tip to the landing with a dog of 10 kg standing in
        the middle of the down contact, as drop tests and rides of weighed dogs tell it: small is light and quick, large
        heavy and slow.
      </p>
    </section>
  )
}

function feelText({ name, feel: { feelS } }: FeltBoard): string {
  return feelS.kind === 'measured' ? `${name}: ${fixed(feelS.value, 2)} s ${marginInWords(feelS, 2)}.` : ''
}
