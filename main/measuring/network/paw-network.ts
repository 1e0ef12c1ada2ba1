import { readFileSync } from 'node:fs'
import type { Tensor4D } from '@tensorflow/tfjs-core'
import { meanOdds } from '../../../analysis/dog/mean-odds.ts'
import type { PawOdds } from '../../../analysis/dog/paw-odds.ts'
import { CHANNELS, COLUMNS, type PawPicture } from '../../../analysis/dog/paw-picture.ts'
import type { TensorCore } from './tensor-backend.ts'

/** A network of our own that reads paws off a paw picture; trained by tests/training on simulated rides. */
export interface PawNetwork {
  look(picture: PawPicture): Promise<PawOdds>
}

/** Maps that come out: front, hind, lead, body, and parts of the odds that the dog is on the plank. */
const MAPS = 5

/** Every layer in the order of the weights' file: name, rows, columns, channels in, channels out. */
const LAYERS = [
  ['d1', 5, 5, CHANNELS, 32],
  ['b1.a', 3, 3, 32, 32],
  ['b1.b', 3, 3, 32, 32],
  ['d2', 3, 3, 32, 48],
  ['b2.0.a', 3, 3, 48, 48],
  ['b2.0.b', 3, 3, 48, 48],
  ['b2.1.a', 3, 3, 48, 48],
  ['b2.1.b', 3, 3, 48, 48],
  ['d3', 3, 3, 48, 64],
  ['b3.0.a', 3, 3, 64, 64],
  ['b3.0.b', 3, 3, 64, 64],
  ['b3.1.a', 3, 3, 64, 64],
  ['b3.1.b', 3, 3, 64, 64],
  ['b3.2.a', 3, 3, 64, 64],
  ['b3.2.b', 3, 3, 64, 64],
  ['b3.3.a', 3, 3, 64, 64],
  ['b3.3.b', 3, 3, 64, 64],
  ['u2.widen', 1, 1, 64, 192],
  ['u2.join', 3, 3, 96, 48],
  ['c2.a', 3, 3, 48, 48],
  ['c2.b', 3, 3, 48, 48],
  ['u1.widen', 1, 1, 48, 128],
  ['u1.join', 3, 3, 64, 32],
  ['c1.a', 3, 3, 32, 32],
  ['c1.b', 3, 3, 32, 32],
  ['head', 3, 3, 32, 4 * MAPS],
] as const

type LayerName = (typeof LAYERS)[number][0]
type BlockName = 'b1' | 'b2.0' | 'b2.1' | 'b3.0' | 'b3.1' | 'b3.2' | 'b3.3' | 'c1' | 'c2'
/** Layers whose output is laid out as twice the size: their channels are ordered anew for that. */
const SHUFFLED: readonly LayerName[] = ['u2.widen', 'u1.widen', 'head']
/** The picture is padded to a multiple of this many steps. */
const STEPS_MULTIPLE = 8
/** A long stretch is looked at in pieces, each with what surrounds it, so that memory does not grow. */
const CHUNK_STEPS = 960
const MARGIN_STEPS = 128

interface Layer {
  readonly kernel: Tensor4D
  readonly bias: Tensor4D
}

/** The program's own weights, two trainings of the same network on different rides; 1.2 MB each, half-precision. */
export const PAW_WEIGHTS: readonly URL[] = [
  new URL('./paw-network-1.bin', import.meta.url),
  new URL('./paw-network-2.bin', import.meta.url),
]

/** The networks of all weights as one, which says what they say on average. */
export function loadPawNetworks(core: TensorCore, files = PAW_WEIGHTS): PawNetwork {
  const networks = files.map((file) => loadPawNetwork(core, file))
  return {
    async look(picture) {
      const looks: PawOdds[] = []
      for (const network of networks) looks.push(await network.look(picture))
      return meanOdds(looks)
    },
  }
}

export function loadPawNetwork(core: TensorCore, file: URL): PawNetwork {
  const layers = readLayers(core, readFileSync(file))
  const layer = (name: LayerName): Layer => layers.get(name)!

  const conv = (x: Tensor4D, name: LayerName, stride: 1 | 2 = 1, dilation = 1): Tensor4D => {
    const { kernel, bias } = layer(name)
    const [rows, columns] = kernel.shape
    const down = ((rows - 1) / 2) * dilation
    const across = (columns - 1) / 2
    const pads: [[number, number], [number, number], [number, number], [number, number]] = [
      [0, 0],
      [down, down],
      [across, across],
      [0, 0],
    ]
    return core.add<Tensor4D>(core.conv2d(x, kernel, stride, pads, 'NHWC', [dilation, 1]), bias)
  }
  const block = (x: Tensor4D, name: BlockName, dilation = 1): Tensor4D =>
    core.relu(core.add<Tensor4D>(x, conv(core.relu(conv(x, `${name}.a`, 1, dilation)), `${name}.b`)))
  const up = (x: Tensor4D, fine: Tensor4D, name: 'u1' | 'u2'): Tensor4D =>
    core.relu(conv(core.concat<Tensor4D>([core.depthToSpace(conv(x, `${name}.widen`), 2), fine], 3), `${name}.join`))

  const down = (x: Tensor4D, name: 'd1' | 'd2' | 'd3'): Tensor4D => core.relu(conv(x, name, 2))

  const network = (x: Tensor4D): Tensor4D => {
    const f1 = block(down(x, 'd1'), 'b1')
    const f2 = block(block(down(f1, 'd2'), 'b2.0'), 'b2.1', 2)
    let f3 = block(down(f2, 'd3'), 'b3.0')
    f3 = block(block(block(f3, 'b3.1', 2), 'b3.2', 4), 'b3.3')
    const g2 = block(up(f3, f2, 'u2'), 'c2')
    return core.depthToSpace(conv(block(up(g2, f1, 'u1'), 'c1'), 'head'), 2)
  }

  /** The maps of some steps, padded so that every level of the network divides. */
  const mapsOf = async ({ steps, values }: Pick<PawPicture, 'steps' | 'values'>): Promise<Float32Array[]> => {
    const padded = STEPS_MULTIPLE * Math.ceil(steps / STEPS_MULTIPLE)
    const input = new Float32Array(padded * COLUMNS * CHANNELS)
    for (let i = 0; i < values.length; i++) input[i] = values[i]! / 255
    const maps = core.tidy(() => {
      const out = core.slice(network(core.tensor4d(input, [1, padded, COLUMNS, CHANNELS])), 0, [
        1,
        steps,
        COLUMNS,
        MAPS,
      ])
      const [front, hind, lead, body, on] = core.unstack(out, 3)
      return [
        core.sigmoid(front!),
        core.sigmoid(hind!),
        core.softmax(lead!),
        core.softmax(body!),
        core.sigmoid(core.logSumExp(on!, 2)),
      ]
    })
    try {
      return await Promise.all(maps.map(async (map) => Float32Array.from(await map.data())))
    } finally {
      core.dispose(maps)
    }
  }

  return {
    async look({ fromS, steps, values }) {
      // Four maps, and one value a step.
      const widths = [COLUMNS, COLUMNS, COLUMNS, COLUMNS, 1]
      const whole = widths.map((width) => new Float32Array(steps * width))
      for (let from = 0; from < steps; from += CHUNK_STEPS) {
        const to = Math.min(steps, from + CHUNK_STEPS)
        const seenFrom = Math.max(0, from - MARGIN_STEPS)
        const seenTo = Math.min(steps, to + MARGIN_STEPS)
        const row = COLUMNS * CHANNELS
        const maps = await mapsOf({ steps: seenTo - seenFrom, values: values.subarray(seenFrom * row, seenTo * row) })
        maps.forEach((map, i) => {
          const width = widths[i]!
          whole[i]!.set(map.subarray((from - seenFrom) * width, (to - seenFrom) * width), from * width)
        })
      }
      const [front, hind, lead, body, on] = whole
      return { fromS, steps, front: front!, hind: hind!, lead: lead!, body: body!, on: on! }
    },
  }
}

function readLayers(core: TensorCore, file: Buffer): Map<LayerName, Layer> {
  const layers = new Map<LayerName, Layer>()
  let at = 0
  const next = (count: number): Float32Array => {
    const out = Float32Array.from({ length: count }, (_, i) => halfAt(file, at + 2 * i))
    at += 2 * count
    return out
  }
  for (const [name, rows, columns, into, out] of LAYERS) {
    const kernel = next(rows * columns * into * out)
    const bias = next(out)
    const order = SHUFFLED.includes(name) ? shuffledOrder(out) : null
    layers.set(name, {
      kernel: core.tensor4d(order === null ? kernel : reordered(kernel, order), [rows, columns, into, out]),
      bias: core.tensor4d(order === null ? bias : reordered(bias, order), [1, 1, 1, out]),
    })
  }
  if (at !== file.length) throw new Error(`The paw network's file has ${file.length} bytes, not ${at}.`)
  return layers
}

/** The training lays channel c of corner (i, j) at 4 c + 2 i + j, depthToSpace wants it at (2 i + j) C + c. */
function shuffledOrder(channels: number): number[] {
  const each = channels / 4
  return Array.from({ length: channels }, (_, to) => 4 * (to % each) + Math.floor(to / each))
}

function reordered(values: Float32Array, order: readonly number[]): Float32Array {
  const n = order.length
  return values.map((_, i) => values[i - (i % n) + order[i % n]!]!)
}

/** A half-precision number (IEEE 754 binary16), little-endian. */
function halfAt(file: Buffer, at: number): number {
  const bits = file.readUInt16LE(at)
  const sign = bits & 0x8000 ? -1 : 1
  const exponent = (bits >> 10) & 0x1f
  const fraction = bits & 0x3ff
  return exponent === 0 ? sign * fraction * 2 ** -24 : sign * (1 + fraction / 1024) * 2 ** (exponent - 15)
}
