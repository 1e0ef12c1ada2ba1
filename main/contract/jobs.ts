/** Long work that goes on beside the window: its state in every moment. */
export interface Job {
  readonly id: string
  readonly clipId: string
  readonly state: JobState
}

export type JobState =
  | { readonly kind: 'waiting'; readonly ahead: number }
  | {
      readonly kind: 'running'
      /** What is going on, for people: "following the board". */
      readonly doing: string
      /** Frames done and to do in this step; 0 to do where frames are not counted. */
      readonly framesDone: number
      readonly framesTotal: number
      /** s of wall time until all is done, as far as it can be told. */
      readonly leftS: number | null
    }
  /** Of a drop test there are no rides; it belongs to its board. */
  | { readonly kind: 'done'; readonly rideIds: readonly string[]; readonly dropOnBoardId?: string }
  | { readonly kind: 'stopped' }
  | {
      readonly kind: 'failed'
      readonly message: string
      /** No dog was found, but a weight that brought the board down. */
      readonly looksLikeDropTest?: boolean
    }
