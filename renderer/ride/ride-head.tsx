import { ChevronLeft, ChevronRight, PencilLine, Redo2, Share2, Undo2 } from 'lucide-react'
import { memo, useState } from 'react'
import { useNavigate } from 'react-router'
import { correctionCount } from '../../analysis/ride/corrections.ts'
import type { RideCard } from '../../main/contract/rides.ts'
import { rideName } from '../../analysis/words/ride-name.ts'
import { feelInWords, useFeels } from '../lists/board-feels.ts'
import { whenInWords } from '../lists/verdict-words.ts'
import { Button, IconButton } from '../look/button.tsx'
import { Confirm } from '../look/dialog.tsx'
import { DescribeDialog } from './describe-dialog.tsx'
import { RideMenu } from './ride-menu.tsx'
import type { RideEditing } from './use-ride-editing.ts'

export interface RideHeadProps {
  readonly card: RideCard
  /** All rides of its clip, in the order of the clip. */
  readonly rideIds: readonly string[]
  readonly editing: RideEditing
  readonly onShare: () => void
}

/** Whose ride it is, and what was done to it. */
export const RideHead = memo(function RideHead({ card, rideIds, editing, onShare }: RideHeadProps) {
  const [isDescribing, setIsDescribing] = useState(false)
  const [isAsking, setIsAsking] = useState(false)
  const { undo, redo, isCorrected, keeping } = editing
  const feel = feelInWords(useFeels().get(card.boardId ?? ''))
  const about = [card.boardName, feel, whenInWords(card)].filter(Boolean).join(', ')
  return (
    <header className="ride-head">
      <h1>{rideName(card)}</h1>
      <p className="ride-about" title={about}>
        {about}
      </p>
      <IconButton label="Title, dog and note" onPress={() => setIsDescribing(true)}>
        <PencilLine aria-hidden="true" />
      </IconButton>
      <RideMenu card={card} />
      {rideIds.length > 1 ? <RidesOfClip rideIds={rideIds} shownId={card.id} /> : null}
      <span className="head-gap" />
      {isCorrected ? (
        <span className="corrected" role="status">
          <span className="by-hand-mark">Corrected by hand</span>
          <Button look="quiet" onPress={() => setIsAsking(true)}>
            Undo all corrections
          </Button>
        </span>
      ) : null}
      <span className="small soft" role="status">
        {keeping.kind === 'failed' ? keeping.message : keeping.kind === 'keeping' ? 'Saving' : ''}
      </span>
      <IconButton label="Undo" shortcut="Ctrl+Z" isDisabled={undo === null} onPress={() => undo?.()}>
        <Undo2 aria-hidden="true" />
      </IconButton>
      <IconButton label="Redo" shortcut="Ctrl+Shift+Z" isDisabled={redo === null} onPress={() => redo?.()}>
        <Redo2 aria-hidden="true" />
      </IconButton>
      <Button onPress={onShare}>
        <Share2 aria-hidden="true" />
        Share
      </Button>
      {isDescribing ? <DescribeDialog card={card} onClose={() => setIsDescribing(false)} /> : null}
      {isAsking ? (
        <Confirm
          title="Undo all corrections?"
          doIt="Undo all"
          onDoIt={editing.revertAll}
          onClose={() => setIsAsking(false)}
        >
          {correctionCount(editing.corrections) === 1
            ? 'One correction goes. Undo brings it back.'
            : `All ${correctionCount(editing.corrections)} corrections go. Undo brings them back.`}
        </Confirm>
      ) : null}
    </header>
  )
})

/** A clip with several rides: which one this is, and the way to those beside it. */
function RidesOfClip({ rideIds, shownId }: { readonly rideIds: readonly string[]; readonly shownId: string }) {
  const navigate = useNavigate()
  const place = rideIds.indexOf(shownId)
  const [before, after] = [rideIds[place - 1], rideIds[place + 1]]
  return (
    <nav className="rides-of-clip" aria-label="Rides of this clip">
      <IconButton
        label="Previous ride"
        isDisabled={before === undefined}
        onPress={() => void navigate(`/rides/${before}`)}
      >
        <ChevronLeft aria-hidden="true" />
      </IconButton>
      <span className="small soft">
        {place + 1} of {rideIds.length} in this clip
      </span>
      <IconButton label="Next ride" isDisabled={after === undefined} onPress={() => void navigate(`/rides/${after}`)}>
        <ChevronRight aria-hidden="true" />
      </IconButton>
    </nav>
  )
}
