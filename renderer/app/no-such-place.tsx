import { ButtonLink } from '../look/button.tsx'
import { Notice } from '../look/notice.tsx'

/** Shown for an address that leads nowhere. */
export function NoSuchPlace() {
  return (
    <div className="screen">
      <Notice tone="unsure" actions={<ButtonLink to="/">Go to Start</ButtonLink>}>
        There is no such page.
      </Notice>
    </div>
  )
}
