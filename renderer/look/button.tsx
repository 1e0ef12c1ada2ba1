import type { ReactNode } from 'react'
import {
  Button as AriaButton,
  type ButtonProps as AriaButtonProps,
  Tooltip,
  TooltipTrigger,
} from 'react-aria-components'
import { Link, type LinkProps } from 'react-router'

/** `primary`: the one next step of a screen; `plain`: bordered; `quiet`: text only. */
type Look = 'primary' | 'plain' | 'quiet'

export interface ButtonProps extends Omit<AriaButtonProps, 'className' | 'style'> {
  readonly look?: Look
}

export function Button({ look = 'plain', ...props }: ButtonProps) {
  return <AriaButton {...props} className="button" data-look={look} />
}

/** A link that looks like a button: it goes somewhere. */
export function ButtonLink({ look = 'plain', ...props }: LinkProps & { readonly look?: Look }) {
  return <Link {...props} className="button" data-look={look} />
}

export interface IconButtonProps extends Omit<AriaButtonProps, 'className' | 'style' | 'children' | 'aria-label'> {
  /** What it does; read out, and shown beside it on hover. */
  readonly label: string
  /** The key that does the same. */
  readonly shortcut?: string
  readonly children: ReactNode
}

export function IconButton({ label, shortcut, children, ...props }: IconButtonProps) {
  return (
    <TooltipTrigger delay={500}>
      <AriaButton {...props} aria-label={label} className="button" data-look="icon">
        {children}
      </AriaButton>
      <Tooltip offset={6}>
        {label}
        {shortcut === undefined ? null : ` (${shortcut})`}
      </Tooltip>
    </TooltipTrigger>
  )
}
