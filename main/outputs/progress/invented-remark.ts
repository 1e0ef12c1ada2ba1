import type { DogOfRides } from './rides-file.ts'

/** What a report says first where rides were drawn by chance for trying out; nothing where all were ridden. */
export function inventedRemark({ file }: Pick<DogOfRides, 'file'>): readonly string[] {
  const isInvented = 'invented' in file || file.rides.some((ride) => ride['invented'] === true)
  return isInvented ? ['Invented rides, to try the program on: no dog ever rode them.'] : []
}
