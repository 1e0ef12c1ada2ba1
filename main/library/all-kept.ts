import type { NotedRide } from '../contract/noted-rides.ts'
import type { Dog, KeptBoard } from '../contract/dogs-and-boards.ts'
import type { ClipOnDisk } from './clip-shelf.ts'
import type { Kept, KeptFiles } from './kept-files.ts'
import type { Kind } from './kinds.ts'
import type { RideOnDisk } from './ride-shelf.ts'

/** What the card of each kind of thing is. */
export interface CardOf {
  readonly dogs: Dog
  readonly boards: KeptBoard
  readonly clips: ClipOnDisk
  readonly rides: RideOnDisk
  readonly noted: NotedRide
}

export type AllKept = { readonly [K in Kind]: readonly Kept<CardOf[K]>[] }
export type AllFiles = { readonly [K in Kind]: KeptFiles<CardOf[K]> }
