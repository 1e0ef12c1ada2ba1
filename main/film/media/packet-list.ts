/** One coded frame or piece of sound as the container lists it. */
export interface Packet {
  /** Raw timestamp of the container, s; NaN when the container gives none. */
  readonly rawS: number
  readonly durationS: number
  readonly isKey: boolean
}

/** Packets by the index of their stream in the input file, in stored order, those that are not shown left out. */
export type PacketList = ReadonlyMap<number, readonly Packet[]>

const KEY = 1
const DISCARD = 4
const NO_TIMESTAMP = '-9223372036854775808'

/**
 * Gathers ffmpeg's `framecrc` output of streams copied without decoding: the cheapest list of timestamps that every
 * ffmpeg gives. A line is `stream, dts, pts, duration, size, checksum`, then `F=` flags if they are not just "key".
 */
export class PacketListReader {
  private readonly secondsPerTick = new Map<number, number>()
  private readonly packets = new Map<number, Packet[]>()

  readLine(line: string): void {
    const timeBase = /^#tb (\d+): (\d+)\/(\d+)/.exec(line)
    if (timeBase !== null) this.secondsPerTick.set(Number(timeBase[1]), Number(timeBase[2]) / Number(timeBase[3]))
    if (line.startsWith('#')) return
    const fields = line.split(',').map((field) => field.trim())
    const [stream, , pts, duration] = fields
    if (pts === undefined || duration === undefined) return
    const flagField = fields.find((field) => field.startsWith('F='))
    const flags = flagField === undefined ? KEY : Number(flagField.slice(2))
    if ((flags & DISCARD) !== 0) return
    const output = Number(stream)
    const tickS = this.secondsPerTick.get(output) ?? NaN
    const list = this.packets.get(output) ?? []
    if (list.length === 0) this.packets.set(output, list)
    list.push({
      rawS: pts === NO_TIMESTAMP ? NaN : Number(pts) * tickS,
      durationS: Number(duration) * tickS,
      isKey: (flags & KEY) !== 0,
    })
  }

  /** @param log ffmpeg's log, which tells which input stream became which output: `Stream #0:2 -> #0:1 (copy)` */
  byInputStream(log: readonly string[]): PacketList {
    const list = new Map<number, readonly Packet[]>()
    for (const line of log) {
      const mapping = /Stream #0:(\d+) -> #0:(\d+) \(copy\)/.exec(line)
      if (mapping !== null) list.set(Number(mapping[1]), this.packets.get(Number(mapping[2])) ?? [])
    }
    return list
  }
}
