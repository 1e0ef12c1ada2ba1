/** Common practice, no source: full equipment from about a year and a half on, when most dogs have done growing. */
const GROWN_AT_MONTHS = 18

/** Whether a dog born in `2023-04` is still growing on a given day; false when the month is not known. */
export function isYoung(bornInMonth: string, today: Date): boolean {
  const [, year, month] = /^(\d{4})-(\d{2})$/.exec(bornInMonth) ?? []
  if (year === undefined || month === undefined) return false
  const months = (today.getFullYear() - Number(year)) * 12 + today.getMonth() + 1 - Number(month)
  return months >= 0 && months < GROWN_AT_MONTHS
}
