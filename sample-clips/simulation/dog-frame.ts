import type { DogSpec } from '../scenario.ts'

/** Lengths of a dog that moving and drawing share, m. */
export interface DogFrame {
  readonly heightM: number
  /** Between the paws' mean places of fore and hind, standing. */
  readonly baseM: number
  /** From the body centre forward to the shoulder point, and back to the hip point. */
  readonly shoulderAheadM: number
  readonly hipBehindM: number
  /** Height over the paws of shoulder and hip points, standing. */
  readonly shoulderUpM: number
  readonly hipUpM: number
  /** Half the distance between left and right paws. */
  readonly foreHalfWidthM: number
  readonly hindHalfWidthM: number
}

/** Part of the way from fore to hind paws at which the centre of mass lies. */
export const CENTRE_SHARE = 0.42

export function dogFrame(dog: DogSpec): DogFrame {
  const h = dog.heightM
  const trunkM = 0.7 * h * dog.bodyLength
  const baseM = trunkM + 0.1 * h
  const legs = 0.72 * h * (0.45 + 0.55 * dog.legLength)
  return {
    heightM: h,
    baseM,
    shoulderAheadM: CENTRE_SHARE * baseM - 0.02 * h,
    hipBehindM: (1 - CENTRE_SHARE) * baseM - 0.08 * h,
    shoulderUpM: legs,
    hipUpM: legs * 1.03,
    foreHalfWidthM: Math.min(0.11, 0.085 * h + 0.012),
    hindHalfWidthM: Math.min(0.12, 0.09 * h + 0.012),
  }
}

export const PAWS = ['LF', 'RF', 'LH', 'RH'] as const
/** Left is -z for a dog that travels along +x with y up. */
export const pawSide = (paw: number): 1 | -1 => (paw % 2 === 0 ? -1 : 1)
export const isFore = (paw: number): boolean => paw < 2
