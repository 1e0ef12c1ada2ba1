/** Text that stands between `<!-- NAME: written by COMMAND -->` and `<!-- /NAME -->`. Throws where a page has no such part. */
export function markedPart(page: string, name: string): string {
  return split(page, name).inside.trim()
}

/** The page with that part renewed. */
export function withMarkedPart(page: string, name: string, text: string): string {
  const { before, after } = split(page, name)
  return `${before}\n\n${text}\n\n${after}`
}

function split(page: string, name: string): { before: string; inside: string; after: string } {
  const match = new RegExp(`^([^]*<!-- ${name}: [^>]*-->)([^]*)(<!-- /${name} -->[^]*)$`).exec(page)
  if (match === null) throw new Error(`The page has no part marked ${name}.`)
  const [, before, inside, after] = match
  return { before: before!, inside: inside!, after: after! }
}
