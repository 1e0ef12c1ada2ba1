import type { RideRecord } from './library.ts'

/** Two rides side by side; a record of a minute of film takes some 40 MB. */
const KEPT = 2

/** The records read last, so that the record of a ride at which somebody works is unpacked once and not at every step. */
export class RecentRecords {
  readonly #read: (id: string, part: string) => Promise<RideRecord>
  /** The one used last is the last one. */
  readonly #recent = new Map<string, Promise<RideRecord>>()

  /** @param read a record's part is never written twice under the same name */
  constructor(read: (id: string, part: string) => Promise<RideRecord>) {
    this.#read = read
  }

  /** Rejects where the record cannot be read, and tries anew when it is asked for again. */
  get(id: string, part: string): Promise<RideRecord> {
    const name = `${id}/${part}`
    const known = this.#recent.get(name)
    const record = known ?? this.#read(id, part)
    this.#recent.delete(name)
    this.#recent.set(name, record)
    if (known === undefined) record.catch(() => this.#recent.delete(name))
    const [oldest] = this.#recent.keys()
    if (this.#recent.size > KEPT && oldest !== undefined) this.#recent.delete(oldest)
    return record
  }
}
