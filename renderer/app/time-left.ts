/**
 * Time left for people: rounded up to what they can feel, so that it does not flicker.
 *
 * `timeLeft(12)` is "about 15 s left", `timeLeft(100)` "about 2 min left"; null where it cannot be told.
 */
export function timeLeft(leftS: number | null): string | null {
  if (leftS === null) return null
  if (leftS <= 3) return 'a moment left'
  if (leftS <= 60) return `about ${Math.ceil(leftS / 5) * 5} s left`
  return `about ${Math.ceil(leftS / 60)} min left`
}
