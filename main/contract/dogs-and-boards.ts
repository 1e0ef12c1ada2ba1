import { z } from 'zod'
import { BOARD_LIMITS } from '../../analysis/board/board-limits.ts'

/** Short text that people type. */
const name = z.string().trim().min(1).max(80)
const note = z.string().max(2000)

/** A dog as the handler enters it. */
export const dogInput = z.object({
  name,
  /** Height at the withers, m. */
  withersM: z.number().min(0.1).max(1.2).nullable(),
  massKg: z.number().min(0.5).max(120).nullable(),
  /** Year and month, `2023-04`: a young dog's caution depends on it. */
  bornInMonth: z
    .string()
    .regex(/^\d{4}-(0[1-9]|1[0-2])$/)
    .nullable(),
  note,
})
export type DogInput = z.infer<typeof dogInput>
export type Dog = DogInput & { readonly id: string }

const within = (field: keyof typeof BOARD_LIMITS) =>
  z.number().min(BOARD_LIMITS[field].min).max(BOARD_LIMITS[field].max)

/** A board's lengths, m, and mass, kg; the same ranges as in a board file. */
export const boardShape = z.object({
  lengthM: within('lengthM'),
  widthM: within('widthM'),
  pivotHeightM: within('pivotHeightM'),
  contactM: within('contactM'),
  thicknessM: within('thicknessM').exactOptional(),
  axisBelowTopM: within('axisBelowTopM').exactOptional(),
  massKg: within('massKg').exactOptional(),
  materialWord: z.string().trim().min(1).max(40).exactOptional(),
})

/** A board as the handler enters it. */
export const boardInput = z.object({ name, shape: boardShape, note })
export type BoardInput = z.infer<typeof boardInput>
export type KeptBoard = BoardInput & { readonly id: string }
