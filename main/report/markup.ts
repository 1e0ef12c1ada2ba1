/** A piece of HTML or SVG that is safe to insert: its texts are escaped already. */
export class Markup {
  readonly source: string
  constructor(source: string) {
    this.source = source
  }
}

/** What may stand in a template: texts and numbers are escaped, pieces and lists of pieces go in as they are, null leaves nothing. */
export type Insert = string | number | Markup | readonly Markup[] | null

/**
 * Builds HTML and SVG: every inserted text is escaped, in elements as well as in quoted attributes.
 * `markup\`<b>${'a < b'}</b>\`` is `<b>a &lt; b</b>`.
 */
export function markup(texts: TemplateStringsArray, ...inserts: readonly Insert[]): Markup {
  const parts = texts.map((text, k) => text + (k < inserts.length ? sourceOf(inserts[k] ?? null) : ''))
  return new Markup(parts.join(''))
}

function sourceOf(insert: Insert): string {
  if (insert === null) return ''
  if (insert instanceof Markup) return insert.source
  if (typeof insert === 'number') return coordinate(insert)
  if (typeof insert === 'string') return escaped(insert)
  return insert.map((piece) => piece.source).join('')
}

/** Numbers in markup are coordinates: a hundredth of a pixel is enough. */
function coordinate(value: number): string {
  if (!Number.isFinite(value)) throw new Error(`a drawing cannot use ${value}`)
  return String(Math.round(value * 100) / 100)
}

function escaped(text: string): string {
  return text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll("'", '&#39;')
}
