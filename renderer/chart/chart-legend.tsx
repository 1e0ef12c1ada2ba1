/** What the signs of a plank chart mean. */
export function ChartLegend() {
  return (
    <ul className="chart-legend" aria-label="Signs of the chart">
      <li>
        <Sign>
          <rect className="chart-paw" data-limb="front" x="0" y="3" width="22" height="6" rx="3" />
        </Sign>
        front paw down
      </li>
      <li>
        <Sign>
          <rect
            className="chart-paw"
            data-limb="hind"
            x="1"
            y="3.8"
            width="20"
            height="4.4"
            rx="2.2"
            strokeWidth="1.6"
          />
        </Sign>
        hind paw down
      </li>
      <li>
        <Sign>
          <rect className="chart-dog" x="0" y="1" width="22" height="10" rx="2" />
          <path className="chart-lead" d="M0,1 H22" />
        </Sign>
        dog, rearmost to foremost paw
      </li>
      <li>
        <Sign>
          <rect className="chart-fall" x="0" y="1" width="22" height="10" rx="2" />
        </Sign>
        board falling
      </li>
    </ul>
  )
}

function Sign({ children }: { readonly children: React.ReactNode }) {
  return (
    <svg viewBox="0 0 22 12" width="22" height="12" aria-hidden="true">
      {children}
    </svg>
  )
}
