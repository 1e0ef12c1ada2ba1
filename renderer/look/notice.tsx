import { CircleAlert, CircleCheck, Info } from 'lucide-react'
import type { ReactNode } from 'react'

const ICONS = { plain: Info, unsure: CircleAlert, bad: CircleAlert, good: CircleCheck } as const

export interface NoticeProps {
  readonly tone?: keyof typeof ICONS
  readonly children: ReactNode
  /** Buttons that follow from it. */
  readonly actions?: ReactNode
}

/** A sentence that should be seen. What went wrong is also read out at once. */
export function Notice({ tone = 'plain', children, actions }: NoticeProps) {
  const Icon = ICONS[tone]
  return (
    <div className="notice" data-tone={tone} {...(tone === 'bad' ? { role: 'alert' } : {})}>
      <Icon aria-hidden="true" />
      <div>{children}</div>
      {actions}
    </div>
  )
}
