/**
 * The little of the Matroska format (RFC 9559) that hands raw pictures with their own timestamps to another program:
 * one track of planar 4:2:0 pictures, a cluster for each.
 */

/** Timestamps are stored in steps of so many ns. */
const stepNs = 10_000

/** What comes before the first picture. */
export function matroskaHead(widthPx: number, heightPx: number): Buffer {
  const ebml = element(0x1a45dfa3, [
    element(0x4286, unsigned(1)),
    element(0x42f7, unsigned(1)),
    element(0x42f2, unsigned(4)),
    element(0x42f3, unsigned(8)),
    element(0x4282, Buffer.from('matroska')),
    element(0x4287, unsigned(4)),
    element(0x4285, unsigned(2)),
  ])
  const info = element(0x1549a966, [
    element(0x2ad7b1, unsigned(stepNs)),
    element(0x4d80, Buffer.from('tiphold')),
    element(0x5741, Buffer.from('tiphold')),
  ])
  const video = element(0xe0, [
    element(0xb0, unsigned(widthPx)),
    element(0xba, unsigned(heightPx)),
    element(0x2eb524, Buffer.from('I420')),
  ])
  const track = element(0xae, [
    element(0xd7, unsigned(1)),
    element(0x73c5, unsigned(1)),
    element(0x83, unsigned(1)),
    element(0x86, Buffer.from('V_UNCOMPRESSED')),
    video,
  ])
  // The segment's length is not known when it begins: all its bits are 1.
  const segment = Buffer.concat([idBytes(0x18538067), Buffer.from('01ffffffffffffff', 'hex')])
  return Buffer.concat([ebml, segment, info, element(0x1654ae6b, [track])])
}

/** One picture, its planes one after another, shown from `timeS` on (0 or later, rising from picture to picture). */
export function matroskaPicture(timeS: number, planes: readonly Uint8Array[]): Buffer {
  // Track 1, no time beyond the cluster's, a key picture.
  const block = [Buffer.of(0x81, 0, 0, 0x80), ...planes]
  return element(0x1f43b675, [element(0xe7, unsigned(Math.round((timeS * 1e9) / stepNs))), element(0xa3, block)])
}

function element(id: number, content: Uint8Array | readonly Uint8Array[]): Buffer {
  const parts = content instanceof Uint8Array ? [content] : content
  const length = parts.reduce((sum, part) => sum + part.length, 0)
  return Buffer.concat([idBytes(id), lengthBytes(length), ...parts])
}

function idBytes(id: number): Buffer {
  const hex = id.toString(16)
  return Buffer.from(hex.padStart(hex.length + (hex.length % 2), '0'), 'hex')
}

/** Eight bytes: a leading 1 that says so, then the number. */
function lengthBytes(length: number): Buffer {
  const bytes = Buffer.alloc(8)
  bytes.writeBigUInt64BE(BigInt(length) | (1n << 56n))
  return bytes
}

function unsigned(value: number): Buffer {
  const bytes = Buffer.alloc(8)
  bytes.writeBigUInt64BE(BigInt(value))
  return bytes
}
