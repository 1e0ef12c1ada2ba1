import { z } from 'zod'
import { BOARD_LIMITS } from '../../analysis/board/board-limits.ts'
import { DOG_MASS_KG, WITHERS_M } from '../../analysis/dog/dog-limits.ts'
import { CRITERION_HOLD_S } from '../../analysis/progress/season.ts'
import { calendarDay } from './sessions.ts'

/** Short text that people type. */
const name = z.string().trim().min(1).max(80)
const note = z.string().max(2000)

/** A dog as the handler enters it. */
export const dogInput = z.object({
  name,
  /** Height at the withers, m. */
  withersM: z.number().min(WITHERS_M.min).max(WITHERS_M.max).nullable(),
  massKg: z.number().min(DOG_MASS_KG.min).max(DOG_MASS_KG.max).nullable(),
  /** The day on which height and mass were taken; null: not known. */
  bodyDay: calendarDay.nullable(),
  /** Year and month, `2023-04`: a young dog's caution depends on it. */
  bornInMonth: z
    .string()
    .regex(/^\d{4}-(0[1-9]|1[0-2])$/)
    .nullable(),
  /** What it is trained to do at the end of the plank; null: not said. */
  criterion: z
    .object({
      position: z.enum(['four-on', '2o2o', 'running']),
      /** How long after the landing it must be held, s; 0 for a running contact. */
      holdAfterGroundS: z.number().min(CRITERION_HOLD_S.min).max(CRITERION_HOLD_S.max),
    })
    .nullable(),
  note,
})
export type DogInput = z.infer<typeof dogInput>
/** Height and mass as they were on a day. */
export interface DogBody {
  readonly day: string | null
  readonly withersM: number | null
  readonly massKg: number | null
}

export type Dog = DogInput & {
  readonly id: string
  /** Earlier heights and masses, the oldest first. */
  readonly bodyBefore: readonly DogBody[]
}

const within = (field: keyof typeof BOARD_LIMITS) =>
  z.number().min(BOARD_LIMITS[field].min).max(BOARD_LIMITS[field].max)

/** A board's lengths, m, and mass, kg; the same ranges as in a board file. */
const boardShape = z.object({
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
export const boardInput = z.object({
  name,
  shape: boardShape,
  note,
  /** Nobody has measured it: it is taken to be as rule books have boards, and all lengths are provisional. */
  isAssumed: z.literal(true).exactOptional(),
})
export type BoardInput = z.infer<typeof boardInput>
export type KeptBoard = BoardInput & { readonly id: string }
