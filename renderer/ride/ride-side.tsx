import { ChevronRight } from 'lucide-react'
import { memo, type ReactNode, useState } from 'react'
import { Button as AriaButton, Disclosure, DisclosurePanel, Heading } from 'react-aria-components'
import { withEvent, withMeasuredFootfall } from '../../analysis/ride/corrections.ts'
import { capitalised, fixed, listInWords, placeInWords, PLUS_MINUS } from '../../analysis/words/in-words.ts'
import { numberRows } from '../../analysis/words/number-rows.ts'
import { RIDE_CAUTIONS } from '../../analysis/words/ride-cautions.ts'
import type { Units } from '../../analysis/words/units.ts'
import { withheldGroups } from '../../analysis/words/withheld-list.ts'
import type { RideDetail } from '../../main/contract/rides.ts'
import type { Selection } from '../chart/chart-editing.ts'
import { Answers } from './answers.tsx'
import { ByTheRules } from './by-the-rules.tsx'
import { MomentsList } from './moments-list.tsx'
import { PawsList } from './paws-list.tsx'
import type { RideEditing } from './use-ride-editing.ts'
import { VerdictFacts } from './verdicts.tsx'

export interface RideSideProps {
  readonly detail: RideDetail
  readonly editing: RideEditing
  readonly units: Units
  readonly selection: Selection | null
  readonly onSelect: (selection: Selection) => void
  readonly onAddPaw: () => void
  readonly comments: ReactNode
}

/** What the ride says, answers first; then everything that it was measured from and can be set by hand. */
export const RideSide = memo(function RideSide(props: RideSideProps) {
  const { detail, editing, units, selection, onSelect, onAddPaw, comments } = props
  const { ride, parts, corrections, origins, change } = editing
  const { measured, board } = parts
  return (
    <div className="ride-side" role="region" aria-label="Results" tabIndex={0}>
      <div className="ride-says">
        <Answers ride={ride} measured={measured} board={board} pose={detail.picture.pose} units={units} />
        <div className="ride-more">
          {detail.card.note === '' ? null : (
            <section className="ride-note" aria-label="Note">
              <p>{detail.card.note}</p>
            </section>
          )}
          <p className="soft small">{PLUS_MINUS}</p>
          <VerdictFacts ride={ride} units={units} />
          <ByTheRules ride={ride} />
          <OnTheWay editing={editing} units={units} />
        </div>
      </div>
      <Part title={commentsTitle(detail)} isOpenByItself={detail.card.comments.length > 0}>
        {comments}
      </Part>
      <Part title="Moments">
        <MomentsList
          ride={ride}
          measured={measured}
          selected={selection?.kind === 'event' ? selection.event : null}
          isByHand={editing.isByHand}
          onSelect={(event) => onSelect({ kind: 'event', event })}
          onRevert={(event) => change((now) => withEvent(now, event, null))}
        />
      </Part>
      <Part title={`Paw contacts, ${ride.footfalls.length}`}>
        <PawsList
          ride={ride}
          measured={measured}
          origins={origins}
          struckOut={corrections.footfalls.struckOut}
          lengthM={board.lengthM}
          units={units}
          selection={selection}
          onSelect={(origin) => onSelect({ kind: 'paw', origin })}
          onAdd={onAddPaw}
          onRevert={(index) => change((now) => withMeasuredFootfall(now, index))}
        />
      </Part>
      <Part title="All numbers">
        <table className="numbers">
          <tbody>
            {numberRows(ride, board.lengthM, units).map(({ name, value, margin }) => (
              <tr key={name}>
                <th scope="row">{name}</th>
                <td>{value}</td>
                <td className="soft">{margin}</td>
              </tr>
            ))}
          </tbody>
        </table>
        <p className="soft small">{PLUS_MINUS}</p>
      </Part>
      <NotMeasured editing={editing} />
      <section className="keep-in-mind" aria-label="Keep in mind">
        {RIDE_CAUTIONS.map((caution) => (
          <p key={caution}>{caution}</p>
        ))}
      </section>
    </div>
  )
})

/** "Comments, 3" */
function commentsTitle({ card: { comments } }: RideDetail): string {
  return comments.length === 0 ? 'Comments' : `Comments, ${comments.length}`
}

/** Pauses and turning back, and what a handler should know of this measurement. */
function OnTheWay({ editing, units }: { readonly editing: RideEditing; readonly units: Units }) {
  const { ride, parts } = editing
  const { pauses, turnedBack } = ride.measures
  const sentences = [
    ...pauses.map(
      ({ fromS, toS, bodyM }) =>
        `Paused for ${fixed(toS - fromS, 2)} s with the body ${placeInWords(bodyM, parts.board.lengthM, units)}.`,
    ),
    ...(turnedBack ? ['Turned back on the way.'] : []),
    ...ride.notes,
  ]
  if (sentences.length === 0) return null
  return (
    <section className="on-the-way" aria-label="Good to know">
      {sentences.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
    </section>
  )
}

function NotMeasured({ editing }: { readonly editing: RideEditing }) {
  const groups = withheldGroups(editing.ride)
  if (groups.length === 0) return null
  return (
    <Part title="Not measured, and why">
      <dl className="withheld">
        {groups.map(({ names, detail }) => (
          <div key={detail}>
            <dt>{capitalised(listInWords(names))}</dt>
            <dd>{detail}</dd>
          </div>
        ))}
      </dl>
    </Part>
  )
}

interface PartProps {
  readonly title: string
  /** Open until it is folded by hand: what is in it may come after the page, as a reply's comments do. */
  readonly isOpenByItself?: boolean
  readonly children: ReactNode
}

function Part({ title, isOpenByItself = false, children }: PartProps) {
  const [byHand, setByHand] = useState<boolean | null>(null)
  return (
    <Disclosure className="part" isExpanded={byHand ?? isOpenByItself} onExpandedChange={setByHand}>
      <Heading level={2}>
        <AriaButton slot="trigger">
          <ChevronRight aria-hidden="true" />
          {title}
        </AriaButton>
      </Heading>
      <DisclosurePanel>{children}</DisclosurePanel>
    </Disclosure>
  )
}
