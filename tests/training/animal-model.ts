import { readFileSync } from 'node:fs'
import type { Vec3 } from '../../sample-clips/world/vector.ts'

/** A skinned animal as it stands at rest: x forward, y up, z to its right; in the file's own unit, ground at 0. */
export interface AnimalModel {
  readonly name: string
  /** Where each bone begins. */
  readonly joints: ReadonlyMap<string, Vec3>
  /** Corners, 3 numbers each. */
  readonly positions: Float32Array
  readonly normals: Float32Array
  readonly triangles: Uint32Array
  /** Index of the material of each corner. */
  readonly materials: Uint8Array
  readonly materialCount: number
  /** For each corner up to four bones (indices into `boneNames`) and their weights, which sum to 1. */
  readonly bones: Uint16Array
  readonly weights: Float32Array
  readonly boneNames: readonly string[]
}

interface Gltf {
  readonly accessors: readonly {
    readonly bufferView: number
    readonly byteOffset?: number
    readonly componentType: number
    readonly count: number
    readonly type: 'SCALAR' | 'VEC2' | 'VEC3' | 'VEC4' | 'MAT4'
  }[]
  readonly bufferViews: readonly {
    readonly byteOffset?: number
    readonly byteLength: number
    readonly byteStride?: number
  }[]
  readonly materials: readonly unknown[]
  readonly meshes: readonly {
    readonly primitives: readonly {
      readonly attributes: Readonly<Record<string, number>>
      readonly indices: number
      readonly material?: number
    }[]
  }[]
  readonly nodes: readonly { readonly name: string }[]
  readonly skins: readonly { readonly joints: readonly number[]; readonly inverseBindMatrices: number }[]
}

const PARTS = { SCALAR: 1, VEC2: 2, VEC3: 3, VEC4: 4, MAT4: 16 } as const

/**
 * Reads the skinned parts of a glTF binary (glTF 2.0, Khronos Group). The file's animals face -y with z up.
 *
 * @param path of a .glb file with one skin
 */
export function readAnimal(path: string): AnimalModel {
  const file = readFileSync(path)
  const jsonBytes = file.readUInt32LE(12)
  const gltf = JSON.parse(file.toString('utf8', 20, 20 + jsonBytes)) as Gltf
  const binary = file.subarray(20 + jsonBytes + 8)
  const skin = gltf.skins[0]!
  const boneNames = skin.joints.map((node) => gltf.nodes[node]!.name)
  const inverse = numbers(gltf, binary, skin.inverseBindMatrices)
  const joints = new Map(boneNames.map((name, i) => [name, turned(originOf(inverse.subarray(16 * i, 16 * i + 16)))]))
  const positions: number[] = []
  const normals: number[] = []
  const triangles: number[] = []
  const materials: number[] = []
  const bones: number[] = []
  const weights: number[] = []
  for (const { attributes, indices, material } of gltf.meshes.flatMap((mesh) => mesh.primitives)) {
    if (attributes['JOINTS_0'] === undefined) continue
    const first = positions.length / 3
    const p = numbers(gltf, binary, attributes['POSITION']!)
    const n = numbers(gltf, binary, attributes['NORMAL']!)
    const w = numbers(gltf, binary, attributes['WEIGHTS_0']!)
    for (let i = 0; i < p.length; i += 3) {
      positions.push(...turned([p[i]!, p[i + 1]!, p[i + 2]!]))
      normals.push(...turned([n[i]!, n[i + 1]!, n[i + 2]!]))
      materials.push(material ?? 0)
    }
    bones.push(...numbers(gltf, binary, attributes['JOINTS_0']))
    for (let i = 0; i < w.length; i += 4) {
      const sum = w[i]! + w[i + 1]! + w[i + 2]! + w[i + 3]! || 1
      for (let k = 0; k < 4; k++) weights.push(w[i + k]! / sum)
    }
    for (const index of numbers(gltf, binary, indices)) triangles.push(first + index)
  }
  return {
    name: path.replace(/^.*\//, '').replace(/\.glb$/, ''),
    joints,
    positions: Float32Array.from(positions),
    normals: Float32Array.from(normals),
    triangles: Uint32Array.from(triangles),
    materials: Uint8Array.from(materials),
    materialCount: gltf.materials.length,
    bones: Uint16Array.from(bones),
    weights: Float32Array.from(weights),
    boneNames,
  }
}

function numbers(gltf: Gltf, binary: Buffer, accessor: number): Float64Array {
  const { bufferView, byteOffset = 0, componentType, count, type } = gltf.accessors[accessor]!
  const view = gltf.bufferViews[bufferView]!
  const parts = PARTS[type]
  const [bytes, read] = reader(binary, componentType)
  const stride = view.byteStride ?? bytes * parts
  const from = (view.byteOffset ?? 0) + byteOffset
  return Float64Array.from({ length: count * parts }, (_, i) =>
    read(from + Math.floor(i / parts) * stride + (i % parts) * bytes),
  )
}

function reader(binary: Buffer, componentType: number): [number, (at: number) => number] {
  switch (componentType) {
    case 5121:
      return [1, (at) => binary.readUInt8(at)]
    case 5123:
      return [2, (at) => binary.readUInt16LE(at)]
    case 5125:
      return [4, (at) => binary.readUInt32LE(at)]
    case 5126:
      return [4, (at) => binary.readFloatLE(at)]
    default:
      throw new Error(`A glTF accessor has component type ${componentType}, which is not read here.`)
  }
}

/** Where a bone begins: the place that its inverse bind matrix (column by column) carries to the origin. */
function originOf(m: Float64Array): Vec3 {
  const [a, b, c] = [m[0]!, m[4]!, m[8]!]
  const [d, e, f] = [m[1]!, m[5]!, m[9]!]
  const [g, h, i] = [m[2]!, m[6]!, m[10]!]
  const [x, y, z] = [-m[12]!, -m[13]!, -m[14]!]
  const det = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)
  return [
    ((e * i - f * h) * x + (c * h - b * i) * y + (b * f - c * e) * z) / det,
    ((f * g - d * i) * x + (a * i - c * g) * y + (c * d - a * f) * z) / det,
    ((d * h - e * g) * x + (b * g - a * h) * y + (a * e - b * d) * z) / det,
  ]
}

const turned = ([x, y, z]: Vec3): [number, number, number] => [-y, z, -x]
