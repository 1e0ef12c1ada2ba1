/** Numbers go in as they are; text that starts like a formula gets an apostrophe in front, which spreadsheets take as "text". */
export function csvCell(value: string | number): string {
  if (typeof value === 'number') return String(value)
  const tame = /^[\s]*[=+\-@\t\r]/.test(value) ? `'${value}` : value
  return /[",\r\n]/.test(tame) ? `"${tame.replaceAll('"', '""')}"` : tame
}
