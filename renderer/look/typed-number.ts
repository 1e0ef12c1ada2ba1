/** What stands in a number field. */
export type TypedNumber =
  | { readonly kind: 'empty' }
  | { readonly kind: 'number'; readonly value: number }
  /** `fault` is a sentence for the one who typed. */
  | { readonly kind: 'fault'; readonly fault: string }

export interface NumberBounds {
  readonly least?: number
  readonly most?: number
  /** "cm" */
  readonly unit?: string
  /** Decimals with which the bounds are said. */
  readonly decimals?: number
}

const NUMBER = /^[-+]?(\d+([.,]\d*)?|[.,]\d+)$/

/** Reads a number as people type it, with a decimal point or a decimal comma: "47,5" is 47.5, and "1,000.5" is neither. */
export function typedNumber(text: string, bounds: NumberBounds = {}): TypedNumber {
  const trimmed = text.trim().replace('\u2212', '-')
  if (trimmed === '') return { kind: 'empty' }
  if (!NUMBER.test(trimmed)) return { kind: 'fault', fault: 'Enter a number, such as 47.5.' }
  const value = Number(trimmed.replace(',', '.'))
  const { least = -Infinity, most = Infinity } = bounds
  return value < least || value > most ? { kind: 'fault', fault: boundsInWords(bounds) } : { kind: 'number', value }
}

/** "Between 10 and 120 cm." The bounds are rounded inwards, so that both can be typed. */
export function boundsInWords({ least, most, unit, decimals = 2 }: NumberBounds): string {
  const of = unit === undefined ? '' : ` ${unit}`
  const grain = 10 ** decimals
  // 0.1 m is 10.000000000000002 of 0.01 m.
  const inwards = {
    least: least === undefined ? undefined : Math.ceil(least * grain - 1e-6) / grain,
    most: most === undefined ? undefined : Math.floor(most * grain + 1e-6) / grain,
  }
  if (inwards.least === undefined) return `At most ${inwards.most}${of}.`
  if (inwards.most === undefined) return `At least ${inwards.least}${of}.`
  return `Between ${inwards.least} and ${inwards.most}${of}.`
}
