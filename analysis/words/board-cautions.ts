/** What stands with every number of a board whose lengths were assumed. */
export const ASSUMED_BOARD =
  'Nobody has measured this board: the lengths of a usual one were assumed, so all numbers are provisional.'

/** What stands beside every check of a board, in the window and in reports. */
export const BOARD_CAUTIONS: readonly string[] = [
  'This page is no judge’s check and passes no board: your rule book and the judge decide, and local rules prevail.',
  'No dog on the board while anything is changed on it. Keep hands and feet out from under it.',
  'Weigh the base down or peg it. Fasten a mass so that it can neither shift nor be touched by a paw.',
  'Test again after every change, with the weight and the place that your rule book names.',
]
