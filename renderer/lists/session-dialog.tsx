import { useState } from 'react'
import { Form } from 'react-aria-components'
import { type SessionChange, sessionChange } from '../../main/contract/sessions.ts'
import { useCall, useChange } from '../host/use-call.ts'
import { Button } from '../look/button.tsx'
import { Tick } from '../look/choice.tsx'
import { Dialog } from '../look/dialog.tsx'
import { SelectField, TextField } from '../look/fields.tsx'
import { Notice } from '../look/notice.tsx'

const AS_IT_IS = 'as-it-is'
const PURPOSES = [
  { key: AS_IT_IS, name: 'As it is' },
  { key: 'training', name: 'Training' },
  { key: 'show', name: 'Show' },
] as const

export interface SessionDialogProps {
  readonly rideIds: readonly string[]
  readonly onClose: () => void
  readonly onDone?: () => void
}

/** Says the same of many rides at once; what is left empty stays as it is in each. */
export function SessionDialog({ rideIds, onClose, onDone }: SessionDialogProps) {
  const set = useChange('rides.setSession')
  const dogs = useCall('dogs.list', {}).data ?? []
  const [dogId, setDogId] = useState<string>(AS_IT_IS)
  const [purpose, setPurpose] = useState<(typeof PURPOSES)[number]['key']>(AS_IT_IS)
  const [words, setWords] = useState({ day: '', venue: '', surface: '', weather: '', handler: '', tags: '' })
  const tags = useCall('rides.tags', { rideIds: [...rideIds] }).data ?? []
  const [dropTags, setDropTags] = useState<readonly string[]>([])
  const [refusal, setRefusal] = useState<string | null>(null)
  const field = (name: keyof typeof words) => ({
    value: words[name],
    onChange: (value: string) => setWords((now) => ({ ...now, [name]: value })),
  })

  function submit(): void {
    const change = sessionChange.safeParse(changeOf(words, purpose === AS_IT_IS ? null : purpose, dropTags))
    if (!change.success) {
      setRefusal('Write the day as 2026-05-14, and tags as a few words with commas between.')
      return
    }
    setRefusal(null)
    set.mutate(
      { rideIds: [...rideIds], change: change.data, ...(dogId === AS_IT_IS ? {} : { dogId }) },
      {
        onSuccess: () => {
          onDone?.()
          onClose()
        },
      },
    )
  }

  const failure = refusal ?? set.error?.message ?? null
  return (
    <Dialog title={rideIds.length === 1 ? 'About this session' : `About ${rideIds.length} rides`} onClose={onClose}>
      <Form
        className="form"
        onSubmit={(event) => {
          event.preventDefault()
          submit()
        }}
      >
        <p className="soft">What you leave empty stays as it is in each ride.</p>
        <div className="form-row">
          <TextField label="Day" type="date" placeholder="2026-05-14" {...field('day')} autoFocus />
          <SelectField label="Training or show" options={PURPOSES} selected={purpose} onSelect={setPurpose} />
          <SelectField
            label="Dog"
            options={[{ key: AS_IT_IS, name: 'As it is' }, ...dogs.map(({ id, name }) => ({ key: id, name }))]}
            selected={dogId}
            onSelect={setDogId}
          />
        </div>
        <div className="form-row">
          <TextField label="Place" maxLength={120} {...field('venue')} />
          <TextField label="Ground" placeholder="grass" maxLength={60} {...field('surface')} />
        </div>
        <div className="form-row">
          <TextField label="Weather" placeholder="dry, windy" maxLength={120} {...field('weather')} />
          <TextField label="Handler" maxLength={80} {...field('handler')} />
        </div>
        <TextField label="Add tags" hint="A comma between two: warm-up, new board" maxLength={400} {...field('tags')} />
        {tags.length === 0 ? null : (
          <div className="remove-tags" role="group" aria-label="Remove tags">
            <span className="field-label">Remove tags</span>
            <div className="remove-tags-row">
              {tags.map(({ tag, rides }) => (
                <Tick
                  key={tag}
                  isSelected={dropTags.includes(tag)}
                  onChange={(isSelected) =>
                    setDropTags((now) => (isSelected ? [...now, tag] : now.filter((one) => one !== tag)))
                  }
                >
                  <bdi>{tag}</bdi>
                  {rideIds.length === 1 ? '' : ` (${rides} of ${rideIds.length})`}
                </Tick>
              ))}
            </div>
          </div>
        )}
        {failure === null ? null : <Notice tone="bad">{failure}</Notice>}
        <div className="dialog-foot">
          <Button onPress={onClose}>Cancel</Button>
          <Button look="primary" type="submit" isDisabled={set.isPending}>
            Save
          </Button>
        </div>
      </Form>
    </Dialog>
  )
}

/** Only what was filled in. */
function changeOf(
  words: Readonly<Record<'day' | 'venue' | 'surface' | 'weather' | 'handler' | 'tags', string>>,
  purpose: 'training' | 'show' | null,
  dropTags: readonly string[],
): SessionChange {
  const { tags, ...plain } = words
  const filled = Object.entries(plain).filter(([, text]) => text.trim() !== '')
  const addTags = tags.split(',').flatMap((tag) => (tag.trim() === '' ? [] : [tag.trim()]))
  return {
    ...Object.fromEntries(filled.map(([name, text]) => [name, text.trim()])),
    ...(purpose === null ? {} : { purpose }),
    ...(addTags.length === 0 ? {} : { addTags }),
    ...(dropTags.length === 0 ? {} : { dropTags: dropTags.slice(0, 20) }),
  }
}
