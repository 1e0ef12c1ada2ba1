import type { ReactNode } from 'react'
import { Dialog as AriaDialog, Heading, Modal, ModalOverlay } from 'react-aria-components'
import { Button } from './button.tsx'

export interface DialogProps {
  readonly title: string
  readonly onClose: () => void
  readonly role?: 'dialog' | 'alertdialog'
  readonly children: ReactNode
}

/** A dialog that is open for as long as it is rendered. Escape and a click beside it close it. */
export function Dialog({ title, onClose, role = 'dialog', children }: DialogProps) {
  return (
    <ModalOverlay
      isOpen
      isDismissable={role === 'dialog'}
      onOpenChange={(isOpen) => {
        if (!isOpen) onClose()
      }}
    >
      <Modal>
        <AriaDialog role={role}>
          <Heading slot="title" level={2}>
            {title}
          </Heading>
          {children}
        </AriaDialog>
      </Modal>
    </ModalOverlay>
  )
}

export interface ConfirmProps {
  readonly title: string
  /** What will happen, a sentence or two. */
  readonly children: ReactNode
  /** The word on the button that does it: "Remove". */
  readonly doIt: string
  readonly onDoIt: () => void
  readonly onClose: () => void
}

/** Asks before something that cannot be undone. */
export function Confirm({ title, children, doIt, onDoIt, onClose }: ConfirmProps) {
  return (
    <Dialog title={title} onClose={onClose} role="alertdialog">
      <div>{children}</div>
      <div className="dialog-foot">
        <Button onPress={onClose} autoFocus>
          Cancel
        </Button>
        <Button
          look="primary"
          onPress={() => {
            onDoIt()
            onClose()
          }}
        >
          {doIt}
        </Button>
      </div>
    </Dialog>
  )
}
