/** The result of reading something from outside: the value, or one line that says what is wrong where. */
export type Parsed<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly message: string }

/** What a number in a file must be. */
export interface NumberRule {
  /** Written after the number in messages; '' for a plain number. */
  readonly unit: string
  readonly min: number
  readonly max: number
}

/** Thrown by `JsonObject` for a bad field and caught by `parsed`; the message is one line. */
class FieldFault extends Error {}

/** Runs a reader built on `JsonObject`: its value, or the message of the first bad field. */
export function parsed<T>(read: () => T): Parsed<T> {
  try {
    return { ok: true, value: read() }
  } catch (error) {
    if (error instanceof FieldFault) return { ok: false, message: error.message }
    throw error
  }
}

/** One object of a JSON file whose fields are checked as they are read. Fields nobody reads are accepted. */
export class JsonObject {
  readonly #file: string
  readonly #path: string
  readonly #fields: Readonly<Record<string, unknown>>

  /**
   * @param file the file's name for messages
   * @param path where in the file the object stands, '' for the whole file, else for instance 'frames[0].points'
   */
  constructor(file: string, path: string, value: unknown) {
    this.#file = file
    this.#path = path
    if (typeof value !== 'object' || value === null || Array.isArray(value)) {
      throw new FieldFault(`${file}: ${path || 'the file'} must be an object { ... }, got ${shown(value)}`)
    }
    this.#fields = value as Record<string, unknown>
  }

  has(field: string): boolean {
    return this.#fields[field] !== undefined && this.#fields[field] !== null
  }

  number(field: string, rule: NumberRule): number {
    const value = this.#need(field)
    if (typeof value !== 'number') throw this.fault(field, `must be a number, got ${shown(value)}`)
    const { min, max } = rule
    if (!Number.isFinite(value) || value < min || value > max) {
      const unit = rule.unit && ` ${rule.unit}`
      const advice = otherUnit(value, rule)
      throw this.fault(field, `must be from ${min} to ${max}${unit}, got ${value}${unit}${advice}`)
    }
    return value
  }

  wholeNumber(field: string, rule: NumberRule): number {
    const value = this.number(field, rule)
    if (!Number.isInteger(value)) throw this.fault(field, `must be a whole number, got ${value}`)
    return value
  }

  text(field: string): string {
    const value = this.#need(field)
    if (typeof value !== 'string') throw this.fault(field, `must be text in quotes, got ${shown(value)}`)
    return value
  }

  flag(field: string): boolean {
    const value = this.#need(field)
    if (typeof value !== 'boolean') throw this.fault(field, `must be true or false, got ${shown(value)}`)
    return value
  }

  object(field: string): JsonObject {
    return new JsonObject(this.#file, this.#at(field), this.#need(field))
  }

  /** The objects of a list field. */
  objects(field: string): JsonObject[] {
    return this.#list(field).map((value, k) => new JsonObject(this.#file, `${this.#at(field)}[${k}]`, value))
  }

  /** A list field of numbers, where null may stand for one that is not known. */
  numbersOrNulls(field: string): readonly (number | null)[] {
    return this.#list(field).map((value, k) => {
      if (value === null || (typeof value === 'number' && Number.isFinite(value))) return value
      throw this.fault(`${field}[${k}]`, `must be a number or null, got ${shown(value)}`)
    })
  }

  /** A list field of exactly two numbers, [x, y]. */
  pair(field: string, rule: NumberRule): readonly [number, number] {
    const list = this.#list(field)
    if (list.length !== 2) throw this.fault(field, `must be two numbers [x, y], got ${list.length} of them`)
    const numbers = new JsonObject(this.#file, this.#at(field), { x: list[0], y: list[1] })
    return [numbers.number('x', rule), numbers.number('y', rule)]
  }

  /** A fault of one field, to be thrown: `throw object.fault('contactM', 'must be ...')`. */
  fault(field: string, what: string): Error {
    return new FieldFault(`${this.#file}: ${this.#at(field)} ${what}`)
  }

  #need(field: string): unknown {
    if (!this.has(field)) throw this.fault(field, 'is missing; add it')
    return this.#fields[field]
  }

  #list(field: string): readonly unknown[] {
    const value = this.#need(field)
    if (!Array.isArray(value)) throw this.fault(field, `must be a list [ ... ], got ${shown(value)}`)
    return value as unknown[]
  }

  #at(field: string): string {
    return this.#path ? `${this.#path}.${field}` : field
  }
}

/** A value cut short for a message. */
function shown(value: unknown): string {
  const text = JSON.stringify(value) ?? String(value)
  return text.length > 40 ? `${text.slice(0, 37)}...` : text
}

/** Lengths in metres are often given in something else: say so where the value would fit. */
function otherUnit(value: number, rule: NumberRule): string {
  if (rule.unit !== 'm') return ''
  const guesses = [
    ['cm', 0.01],
    ['mm', 0.001],
    ['inches', 0.0254],
    ['feet', 0.3048],
  ] as const
  for (const [name, metres] of guesses) {
    const inM = value * metres
    if (inM >= rule.min && inM <= rule.max) {
      return `; give metres, not ${name}: ${value} ${name} is ${Number(inM.toPrecision(4))}`
    }
  }
  return '; measure it again'
}
