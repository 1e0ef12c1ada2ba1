import type { ReactElement, ReactNode } from 'react'

/** What the signs of a plank chart mean. */
export const CHART_SIGNS: readonly { readonly sign: ReactElement; readonly words: string }[] = [
  {
    words: 'front paw down',
    sign: (
      <Sign>
        <rect className="chart-paw front" x="0" y="3" width="22" height="6" rx="3" />
      </Sign>
    ),
  },
  {
    words: 'hind paw down',
    sign: (
      <Sign>
        <rect className="chart-paw hind" x="1" y="3.8" width="20" height="4.4" rx="2.2" strokeWidth="1.6" />
      </Sign>
    ),
  },
  {
    words: 'dog, rearmost to foremost paw',
    sign: (
      <Sign>
        <rect className="chart-dog" x="0" y="1" width="22" height="10" rx="2" />
        <path className="chart-lead" d="M0,1 H22" />
      </Sign>
    ),
  },
  {
    words: 'board falling',
    sign: (
      <Sign>
        <rect className="chart-fall" x="0" y="1" width="22" height="10" rx="2" />
      </Sign>
    ),
  },
]

/** The signs and their meanings in a row, for the window. */
export function ChartLegend() {
  return (
    <ul className="chart-legend" aria-label="Signs of the chart">
      {CHART_SIGNS.map(({ sign, words }) => (
        <li key={words}>
          {sign}
          {words}
        </li>
      ))}
    </ul>
  )
}

function Sign({ children }: { readonly children: ReactNode }) {
  return (
    <svg viewBox="0 0 22 12" width="22" height="12" aria-hidden="true">
      {children}
    </svg>
  )
}
