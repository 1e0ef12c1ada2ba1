import { Radio, RadioGroup } from 'react-aria-components'

/** Shares of the true speed. */
export const SPEEDS = [1 / 8, 1 / 4, 1 / 2, 1] as const
const NAMES = ['⅛', '¼', '½', '1'] as const
const SPOKEN = ['an eighth', 'a quarter', 'half', 'full'] as const

/** How fast the film plays, against the truth: what was filmed in slow motion is already set right. */
export function SpeedChoice(props: { readonly speed: number; readonly onSpeed: (speed: number) => void }) {
  return (
    <RadioGroup
      className="speed-choice"
      orientation="horizontal"
      aria-label="Speed"
      value={String(SPEEDS.findIndex((speed) => speed === props.speed))}
      onChange={(index) => props.onSpeed(SPEEDS[Number(index)] ?? 1)}
    >
      {NAMES.map((name, index) => (
        <Radio key={name} value={String(index)} aria-label={`${SPOKEN[index]} speed`}>
          {name}
        </Radio>
      ))}
    </RadioGroup>
  )
}
