import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { dirname, join } from 'node:path'
import type { Tensor } from '@tensorflow/tfjs-core'
import type * as Converter from '@tensorflow/tfjs-converter'
import type { Finding, RgbPicture } from './animal-finder.ts'
import { type Detection, findingsFrom } from './findings.ts'
import { boxFromSquare, letterbox } from './letterbox.ts'
import type { TensorCore } from './tensor-backend.ts'

/**
 * A CenterNet detector on MobileNetV3, trained on COCO, its files shipped by the package @vladmandic/human.
 * In: 512 x 512 px, red, green, blue, 0-255. Out: 100 lines of left, top, right, bottom (px of the square), score, class.
 */
export interface Centernet {
  find(picture: RgbPicture): Promise<Finding[]>
}

const SIZE_PX = 512
const OUTPUT = 'tower_0/detections'
const NUMBERS_A_LINE = 6
const require = createRequire(import.meta.url)

/** Loads the detector's graph and weights. */
export function loadCenternet(core: TensorCore): Centernet {
  const { loadGraphModelSync } = require('@tensorflow/tfjs-converter') as typeof Converter
  const model = loadGraphModelSync(centernetFiles())
  return {
    async find(picture) {
      const boxed = letterbox(picture, SIZE_PX)
      const input = core.tensor4d(boxed.square, [1, SIZE_PX, SIZE_PX, 3])
      const output = core.tidy(() => model.execute(input, OUTPUT) as Tensor)
      try {
        const detections = detectionsFrom(await output.data())
        return findingsFrom(
          detections.map((detection) => ({ ...detection, box: boxFromSquare(detection.box, boxed, picture) })),
        )
      } finally {
        core.dispose([input, output])
      }
    },
  }
}

type GraphJson = Extract<Parameters<typeof Converter.loadGraphModelSync>[0], unknown[]>[0]

function centernetFiles(): [GraphJson, ArrayBuffer] {
  // The package exports no path of its model files: its folder is found through its main file.
  const folder = join(dirname(require.resolve('@vladmandic/human')), '../models')
  const graph = JSON.parse(readFileSync(join(folder, 'centernet.json'), 'utf8')) as GraphJson
  const weights = readFileSync(join(folder, 'centernet.bin'))
  return [graph, new Uint8Array(weights).buffer]
}

function detectionsFrom(numbers: ArrayLike<number>): Detection[] {
  return Array.from({ length: Math.floor(numbers.length / NUMBERS_A_LINE) }, (_, line) => {
    const at = (i: number): number => numbers[line * NUMBERS_A_LINE + i]!
    return { box: { x0Px: at(0), y0Px: at(1), x1Px: at(2), y1Px: at(3) }, score: at(4), classIndex: at(5) }
  })
}
