import type { BoardTrack } from '../../analysis/board/board-track.ts'
import type { DogTrack } from '../../analysis/dog/dog-track.ts'
import type { Listed } from './rides.ts'

const makers = {
  Float64: (list: readonly (number | null)[]) => Float64Array.from(list, (value) => value ?? NaN),
  Float32: (list: readonly (number | null)[]) => Float32Array.from(list, (value) => value ?? NaN),
  Int32: (list: readonly (number | null)[]) => Int32Array.from(list, Number),
  Uint8: (list: readonly (number | null)[]) => Uint8Array.from(list, Number),
}

/** Which fields of a record are typed arrays, and of which kind: every one must be named. */
export type ArrayFields<T> = {
  readonly [Field in keyof T as T[Field] extends TypedArray ? Field : never]: T[Field] extends Float64Array
    ? 'Float64'
    : T[Field] extends Float32Array
      ? 'Float32'
      : T[Field] extends Int32Array
        ? 'Int32'
        : 'Uint8'
}
type TypedArray = Float64Array | Float32Array | Int32Array | Uint8Array

/** A record with its typed arrays as plain lists, NaN as null: fit for JSON. */
export function listed<T extends object>(record: T): Listed<T> {
  const entries: [string, unknown][] = Object.entries(record)
  const fields = entries.map(([field, value]) => [field, isTypedArray(value) ? numbers(value) : value] as const)
  return Object.fromEntries(fields) as Listed<T>
}

/** The record that `listed` made a list of; `fields` says which of its lists were typed arrays. */
export function unlisted<T extends object>(record: Listed<T>, fields: ArrayFields<T>): T {
  const kinds = new Map(Object.entries<keyof typeof makers>(fields))
  const entries: [string, unknown][] = Object.entries(record)
  const arrays = entries.map(([field, value]) => {
    const kind = kinds.get(field)
    return [field, kind === undefined ? value : makers[kind](value as (number | null)[])]
  })
  return Object.fromEntries(arrays) as T
}

/** The numbers of a typed array as a plain list, NaN as null. */
export function numbers(array: TypedArray): (number | null)[] {
  return Array.from(array, (value) => (Number.isNaN(value) ? null : value))
}

export function unlistedDog(dog: Listed<DogTrack>): DogTrack {
  return unlisted<DogTrack>(dog, {
    ptsS: 'Float64',
    leadPawM: 'Float64',
    leadPawSdM: 'Float64',
    rearPawM: 'Float64',
    rearPawSdM: 'Float64',
    bodyM: 'Float64',
    bodySdM: 'Float64',
  })
}

export function unlistedTrack(track: Listed<BoardTrack>): BoardTrack {
  return unlisted<BoardTrack>(track, { ptsS: 'Float64', angleRad: 'Float64', sdRad: 'Float64', seen: 'Uint8' })
}

function isTypedArray(value: unknown): value is TypedArray {
  return ArrayBuffer.isView(value) && !(value instanceof DataView)
}
