import { ProgressBar } from 'react-aria-components'

export interface ProgressProps {
  /** What is going on: "Following the board". */
  readonly label: string
  /** 0 to 1; null when it cannot be told. */
  readonly shareDone: number | null
  /** Said beside it: "about 20 seconds left". */
  readonly note?: string
}

export function Progress({ label, shareDone, note }: ProgressProps) {
  const percent = shareDone === null ? 0 : Math.round(Math.min(1, Math.max(0, shareDone)) * 100)
  return (
    <ProgressBar className="progress" aria-label={label} value={percent} isIndeterminate={shareDone === null}>
      <div className="progress-words">
        <span>{label}</span>
        {note === undefined ? null : <span className="soft">{note}</span>}
      </div>
      <div className="track">
        {shareDone === null ? (
          <div className="fill" data-unknown="" />
        ) : (
          <div className="fill" style={{ width: `${percent}%` }} />
        )}
      </div>
    </ProgressBar>
  )
}
