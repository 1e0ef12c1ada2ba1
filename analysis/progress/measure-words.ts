import { siDisplay, type DisplayUnit } from '../words/units.ts'

/** How a measure is spoken of over a season. */
export interface MeasureWords {
  /** As a heading: "Hold before the landing". */
  readonly name: string
  /** After the dog's name, when it grows or shrinks: "holds longer before the landing". */
  readonly rising: string
  readonly falling: string
  /**
   * The smallest change over a season that would matter to a handler, in the measure's unit. Common practice, chosen
   * by us: about what an eye sees without a film.
   */
  readonly smallestChange: number
  readonly unit: DisplayUnit
  /** About the board more than about the dog. */
  readonly ofBoard: boolean
}

const seconds = siDisplay('s', 2)
const metres = siDisplay('m', 2)
const centimetres: DisplayUnit = { perSi: 100, sign: 'cm', decimals: 0 }
const metresASecond = siDisplay('m/s', 2)
const degrees = siDisplay('°', 0)

function words(
  name: string,
  rising: string,
  falling: string,
  smallestChange: number,
  unit: DisplayUnit,
  ofBoard = false,
): MeasureWords {
  return { name, rising, falling, smallestChange, unit, ofBoard }
}

/** Every measure that is followed over a season, in the order in which it is told. */
export const MEASURES: Readonly<Record<string, MeasureWords>> = {
  leavingMarginS: words('Leaving, from the landing', 'leaves later', 'leaves sooner', 0.15, seconds),
  holdBeforeGroundS: words(
    'Hold before the landing',
    'holds longer before the landing',
    'holds less long before the landing',
    0.15,
    seconds,
  ),
  stayAfterGroundS: words(
    'Stay after the landing',
    'stays on longer after the landing',
    'stays on less long after the landing',
    0.15,
    seconds,
  ),
  leadPawAtTipM: words(
    'Lead paw at the tip',
    'has its lead paw further along the plank at the tip',
    'has its lead paw less far along the plank at the tip',
    0.15,
    centimetres,
  ),
  bodyAtTipM: words(
    'Body at the tip',
    'has its body further along the plank at the tip',
    'has its body less far along the plank at the tip',
    0.15,
    centimetres,
  ),
  entrySpeedMps: words(
    'Speed of approach',
    'comes to the plank faster',
    'comes to the plank slower',
    0.4,
    metresASecond,
  ),
  climbSpeedMps: words('Speed of the climb', 'climbs faster', 'climbs slower', 0.3, metresASecond),
  strideM: words('Stride', 'takes longer strides', 'takes shorter strides', 0.1, centimetres),
  entryAngleDeg: words(
    'Angle of entry',
    'enters more from the camera’s side',
    'enters more from the far side',
    6,
    degrees,
  ),
  entryOffsetM: words(
    'Line of entry',
    'meets the entry end further to the camera’s side',
    'meets the entry end further to the far side',
    0.1,
    centimetres,
  ),
  dropTimeS: words(
    'Fall of the board',
    'rides boards that fall more slowly',
    'rides boards that fall faster',
    0.1,
    seconds,
    true,
  ),
  bounceM: words('Bounce', 'rides boards that bounce more', 'rides boards that bounce less', 0.04, centimetres, true),
  baseLiftM: words(
    'Lift of the base',
    'rides bases that lift more',
    'rides bases that lift less',
    0.02,
    centimetres,
    true,
  ),
  baseShiftM: words(
    'Shift of the base',
    'rides bases that shift more',
    'rides bases that shift less',
    0.02,
    metres,
    true,
  ),
}
