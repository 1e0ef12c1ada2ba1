/**
 * A text from outside (a file's name, a word in a file) as it may be shown on a terminal: characters that steer the
 * terminal or turn the direction of writing are spelt out, `\u{1b}`. Line breaks and tabs stay.
 */
export function harmless(text: string): string {
  return text.replace(STEERING, (character) => `\\u{${character.codePointAt(0)!.toString(16)}}`)
}

/** As `harmless`, on one line. */
export function harmlessLine(text: string): string {
  return harmless(text).replace(/[\n\t]/g, (character) => (character === '\n' ? '\\n' : '\\t'))
}

/** C0 and C1 control characters but line break and tab, and what Unicode has for turning the direction of writing. */
const STEERING = /(?![\n\t])[\p{Cc}\u200e\u200f\u202a-\u202e\u2066-\u2069]/gu
