/** The small signs by which boards tell themselves apart, also in grey. */
const SIGNS = 6

/** A board's sign about a point; `k` counts the dog's boards, the most used first. */
export function BoardSign(props: {
  readonly k: number
  readonly xPx: number
  readonly yPx: number
  readonly sizePx: number
}) {
  const { k, xPx, yPx, sizePx: s } = props
  const at = (dx: number, dy: number) => `${(xPx + dx * s).toFixed(2)},${(yPx + dy * s).toFixed(2)}`
  const full = k % SIGNS < 3 ? 'board-sign' : 'board-sign-open'
  switch (k % 3) {
    case 0:
      return <circle className={full} cx={xPx} cy={yPx} r={0.85 * s} />
    case 1:
      return <path className={full} d={`M${at(-0.8, -0.8)} L${at(0.8, -0.8)} L${at(0.8, 0.8)} L${at(-0.8, 0.8)} Z`} />
    default:
      return <path className={full} d={`M${at(0, -1)} L${at(1, 0.8)} L${at(-1, 0.8)} Z`} />
  }
}
