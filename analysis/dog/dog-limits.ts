/** Heights at the withers that a dog may have, m: from the smallest breeds to the tallest, with room (our judgement). */
export const WITHERS_M = { min: 0.1, max: 1.2 } as const

/** What a dog may weigh, kg: from the smallest breeds to the heaviest, with room (our judgement). */
export const DOG_MASS_KG = { min: 0.5, max: 120 } as const
