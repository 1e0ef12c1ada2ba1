import { MOVED_M } from '../ride/board-events.ts'
import { APPROACH_M } from '../approach/entry-speed.ts'
import { BACK_M, PAUSE_MPS, PAUSE_S } from '../ride/measures.ts'
import { SETTLED_M } from '../ride/ride-events.ts'
import { TIP_DROP_M } from '../ride/tip-start.ts'

/** What one number or word of a ride means, for people. */
export interface Definition {
  /** As screens and reports call it. */
  readonly name: string
  /** One or two sentences. */
  readonly means: string
}

export interface DefinitionGroup {
  readonly title: string
  readonly definitions: readonly Definition[]
}

const cm = (metres: number) => `${Math.round(100 * metres)} cm`

/** Every moment, measure and verdict, each defined once. Figures are those that the measuring itself uses. */
export const DEFINITIONS: readonly DefinitionGroup[] = [
  {
    title: 'Moments of a ride',
    definitions: [
      { name: 'First paw on', means: 'A paw touches the plank for the first time.' },
      {
        name: 'Tip start',
        means: `The exit end has dropped ${1000 * TIP_DROP_M} mm from rest, at the last such moment before it lands.`,
      },
      {
        name: 'Landing',
        means:
          'The exit end touches the ground for the first time, before any bounce. Its bang makes the time sharper.',
      },
      {
        name: 'Lead paw came to rest',
        means: `From here until the landing the lead paw stays within ${cm(SETTLED_M)} of where it is at the landing.`,
      },
      { name: 'Left the plank', means: 'The last paw comes off.' },
    ],
  },
  {
    title: 'Measures of a ride',
    definitions: [
      {
        name: 'Lead paw at the tip',
        means:
          'How far the foremost front paw is along the plank when the tip starts, from the pivot; it may be in the air.',
      },
      {
        name: 'Body at the tip',
        means: "The dog's centre of mass along the plank when the tip starts, from the pivot.",
      },
      { name: 'Drop time', means: 'From the tip start to the landing.' },
      {
        name: 'Held before the landing',
        means: 'From the lead paw coming to rest to the landing. Not given if the dog left before the landing.',
      },
      { name: 'Stayed after the landing', means: 'From the landing to the last paw off.' },
      {
        name: 'Leaving margin',
        means: 'From the landing to the last paw off, with a minus if the dog left before the landing.',
      },
      {
        name: 'Speed before the board, speed up the board',
        means: `How fast the body moves along the plank's line, over the last ${APPROACH_M} m before the plank and from the entry end to the pivot.`,
      },
      {
        name: 'Stride',
        means: 'From one footfall of a front paw to the next of the same paw, as a mean over the climb.',
      },
      {
        name: 'Angle and line of entry',
        means:
          'The path of the paws on the ground before the plank, seen from above: its angle to the plank, and how far beside the middle line it meets the entry end, towards the camera or away from it.',
      },
      {
        name: 'Pause',
        means: `More than ${PAUSE_S} s on the plank with the body slower than ${PAUSE_MPS} m/s. The dog turned back if its body went back more than ${cm(BACK_M)}.`,
      },
      { name: 'Footfall', means: 'A paw planted on the plank: where, from when to when, front or hind.' },
      { name: 'Bounce', means: 'How high the exit end springs back after the landing.' },
    ],
  },
  {
    title: 'Verdicts',
    definitions: [
      {
        name: 'Contact zones',
        means:
          'Touched, missed or unsure, with the first and last touch and how far the deepest paw was inside the zone or short of it. A paw counts where the middle of its sole stands.',
      },
      {
        name: 'Leaving',
        means:
          'After the landing, before it, or before the tip. Too close to tell if the interval of the margin holds both; not seen if a moment that it takes is not on the clip.',
      },
    ],
  },
  {
    title: 'Drop test',
    definitions: [
      {
        name: 'Fall from placing, fall from letting go',
        means: 'From the weight resting on the board, or from the hand coming off it, to the landing.',
      },
      { name: 'Moved', means: `The exit end sank by more than ${cm(MOVED_M)}.` },
    ],
  },
  {
    title: 'How to read a number',
    definitions: [
      {
        name: '±',
        means: 'The true value lies within this much of the number about 19 times in 20.',
      },
      { name: 'At least', means: 'The clip ended too early to see the rest: the value is this or more.' },
      { name: 'Not measured', means: 'The clip does not show it well enough; the reason stands beside it.' },
      {
        name: 'Places',
        means: 'Along the top of the plank, in the direction of travel: + is past the pivot, − before it.',
      },
      { name: 'Times', means: "The clip's own time, first picture 0, in real seconds also for slow motion." },
    ],
  },
]
