import { Ellipsis, Trash2 } from 'lucide-react'
import { useState } from 'react'
import { Menu, MenuItem, MenuTrigger, Popover } from 'react-aria-components'
import { useNavigate } from 'react-router'
import type { RideCard } from '../../main/contract/rides.ts'
import { useRemove } from '../app/removals.tsx'
import { rideName } from '../../analysis/words/ride-name.ts'
import { SessionDialog } from '../lists/session-dialog.tsx'
import { IconButton } from '../look/button.tsx'
import { Confirm } from '../look/dialog.tsx'

/** Back to the clip that a ride comes from, and away with the ride. */
export function RideMenu({ card }: { readonly card: RideCard }) {
  const remove = useRemove('rides.remove')
  const navigate = useNavigate()
  const [isAsking, setIsAsking] = useState(false)
  const [isTelling, setIsTelling] = useState(false)
  const { clipId, id, dogId, dogName } = card
  return (
    <>
      <MenuTrigger>
        <IconButton label="More for this ride">
          <Ellipsis aria-hidden="true" />
        </IconButton>
        <Popover placement="bottom start">
          <Menu aria-label="More for this ride">
            <MenuItem href={`#/clips/${clipId}/marking`}>Edit marks, measure again</MenuItem>
            <MenuItem href={`#/clips/${clipId}/set-up`}>Clip set-up</MenuItem>
            {dogId === null ? null : (
              <MenuItem href={`#/dogs/${dogId}`}>{dogName === null ? 'The dog’s page' : `${dogName}’s page`}</MenuItem>
            )}
            <MenuItem onAction={() => setIsTelling(true)}>Day, place, purpose</MenuItem>
            <MenuItem href={`#/side-by-side?a=${id}`}>Side by side with another ride</MenuItem>
            <MenuItem href="#/definitions">What the numbers mean</MenuItem>
            <MenuItem onAction={() => setIsAsking(true)}>
              <Trash2 aria-hidden="true" />
              Remove this ride
            </MenuItem>
          </Menu>
        </Popover>
      </MenuTrigger>
      {remove.error === null ? null : (
        <span className="small" role="alert">
          {remove.error.message}
        </span>
      )}
      {isTelling ? <SessionDialog rideIds={[id]} onClose={() => setIsTelling(false)} /> : null}
      {isAsking ? (
        <Confirm
          title={`Remove ${rideName(card)}?`}
          doIt="Remove"
          onDoIt={() => remove.mutate({ rideId: id }, { onSuccess: () => void navigate('/rides', { replace: true }) })}
          onClose={() => setIsAsking(false)}
        >
          Its numbers and corrections go. The clip and its marks stay, so you can measure it again.
        </Confirm>
      ) : null}
    </>
  )
}
