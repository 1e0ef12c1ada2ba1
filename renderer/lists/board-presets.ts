import type { BoardInput } from '../../main/contract/dogs-and-boards.ts'

/** The build that a rule book asks for, as a start for a board of one's own. */
export interface BoardPreset {
  readonly key: string
  readonly name: string
  /** Where the figures come from and how far they are to be trusted. */
  readonly source: string
  readonly shape: Pick<BoardInput['shape'], 'lengthM' | 'widthM' | 'pivotHeightM' | 'contactM'>
}

export const BOARD_PRESETS: readonly BoardPreset[] = [
  {
    key: 'uk',
    name: 'UK, since 2021',
    source: 'UK national regulations H(1)(B)3.m, in force since January 2021.',
    shape: { lengthM: 3.66, widthM: 0.3, pivotHeightM: 0.61, contactM: 0.914 },
  },
  {
    key: 'uk-old',
    name: 'UK, before 2021',
    source: 'Common practice for boards built before 2021, up to 68.5 cm high: measure yours.',
    shape: { lengthM: 3.66, widthM: 0.3, pivotHeightM: 0.66, contactM: 0.914 },
  },
  {
    key: 'fci',
    name: 'FCI',
    source: 'FCI obstacle guidelines, by a paraphrase of 2020: 3.60 to 3.80 m long. Check your own rule book.',
    shape: { lengthM: 3.7, widthM: 0.3, pivotHeightM: 0.6, contactM: 0.9 },
  },
  {
    key: 'akc',
    name: 'AKC',
    source: 'AKC agility regulations, as club pages quote them: 12 ft long, 42 in zones. Check your own rule book.',
    shape: { lengthM: 3.658, widthM: 0.305, pivotHeightM: 0.61, contactM: 1.067 },
  },
  {
    key: 'usdaa',
    name: 'USDAA',
    source: 'USDAA training page, part of it from memory: check your own rule book.',
    shape: { lengthM: 3.66, widthM: 0.3, pivotHeightM: 0.61, contactM: 0.914 },
  },
]

/** A ride's rule sets, by the same bodies. */
export const RULE_SETS = [
  { key: 'uk', name: 'UK' },
  { key: 'fci', name: 'FCI' },
  { key: 'akc', name: 'AKC' },
  { key: 'usdaa', name: 'USDAA' },
] as const
