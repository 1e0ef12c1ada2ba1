import type { CorrectableEvent } from '../ride/corrections.ts'

export interface EventName {
  /** On the chart. */
  readonly word: string
  /** In lists and for screen readers. */
  readonly name: string
  /** What exactly is timed. */
  readonly about: string
}

/** What the events of a ride are called. */
export const EVENT_NAMES: Readonly<Record<CorrectableEvent, EventName>> = {
  firstOn: {
    word: 'on',
    name: 'First paw on',
    about: 'The first moment in which a paw touches the plank.',
  },
  tipStart: {
    word: 'tip',
    name: 'Board began to tip',
    about: 'The moment in which the exit end has dropped by 10 mm.',
  },
  settled: {
    word: 'hold',
    name: 'Lead paw came to rest',
    about: 'From here on the lead paw stays within 10 cm of where it is when the board lands.',
  },
  grounded: {
    word: 'landed',
    name: 'Board landed',
    about: 'The first moment in which the exit end touches the ground.',
  },
  left: {
    word: 'off',
    name: 'Dog left',
    about: 'The last moment in which a paw touches the plank.',
  },
}
