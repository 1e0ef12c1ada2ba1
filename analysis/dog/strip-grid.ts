/** The grid of a strip: a band along the plank that moves with it, in the plane through the near edge. */
export interface StripGrid {
  /** First column and row, m along and above; centres of the cells. */
  readonly fromAlongM: number
  readonly fromAboveM: number
  readonly cellM: number
  readonly columns: number
  readonly rows: number
}

/**
 * A grid for a board: from half a metre before the plank to half a metre behind it.
 *
 * @param cellM size of a cell, about a decoded pixel, m; @param heightM how far above the plank
 * @param lengthM length of the plank, m
 */
export function stripGrid(lengthM: number, cellM: number, heightM: number): StripGrid {
  const beyondM = 0.5
  const belowM = 0.12
  return {
    fromAlongM: -beyondM,
    fromAboveM: -belowM,
    cellM,
    columns: Math.ceil((lengthM + 2 * beyondM) / cellM),
    rows: Math.ceil((belowM + heightM) / cellM),
  }
}
