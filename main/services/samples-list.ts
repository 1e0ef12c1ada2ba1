import type { DogInput } from '../contract/dogs-and-boards.ts'

/** What is said of a bundled clip; its marks and board lie beside it. */
export interface Sample {
  readonly name: string
  readonly title: string
  readonly about: string
  readonly dog: DogInput
  readonly boardName: string
}

/** The first one is measured by itself when a library is new. Dogs and places are invented. */
export const SAMPLES: readonly Sample[] = [
  {
    name: 'wren-hold',
    title: 'Wren holds to the ground',
    about: 'Trots up, waits near the end until the board has landed, and walks off.',
    dog: dog('Wren', 0.5, 17),
    boardName: 'Meadow board, blue and yellow',
  },
  {
    name: 'pilot-early-leap',
    title: 'Pilot leaps too early',
    about: 'Gallops over from right to left and flies off before the board has landed.',
    dog: dog('Pilot', 0.55, 21),
    boardName: 'Evening board, green and white',
  },
  {
    name: 'juno-missed-contact',
    title: 'Juno misses the zone',
    about: 'Stops short of the down contact, waits for the landing and leaps over the zone; her handler walks behind.',
    dog: dog('Juno', 0.57, 27),
    boardName: 'Hall board, white and red',
  },
  {
    name: 'biscuit-slow-board',
    title: 'Biscuit on a heavy board',
    about: 'A small dog waits while a heavy wooden board sinks; filmed by hand.',
    dog: dog('Biscuit', 0.32, 6.5),
    boardName: 'Old wooden board',
  },
  {
    name: 'moth-slow-motion',
    title: 'Moth in slow motion',
    about: 'Runs through without waiting; filmed at 240 frames a second.',
    dog: dog('Moth', 0.42, 12),
    boardName: 'Fast board, red and white',
  },
]

function dog(name: string, withersM: number, massKg: number): DogInput {
  return {
    name,
    withersM,
    massKg,
    bodyDay: null,
    bornInMonth: null,
    criterion: null,
    note: 'An invented dog of the sample clips.',
  }
}
