import type { Board } from '../../analysis/board/board.ts'
import type { Marks } from '../../analysis/board/marks.ts'
import type { PictureSize } from '../../analysis/calibration/seesaw-camera.ts'
import { type Fit, fitMarks } from './fit.ts'

/** What the window asks of the worker. A fit takes 10 to 200 ms: too long to do between two pictures of a drag. */
export interface FitQuestion {
  readonly board: Board
  readonly marks: Marks
  readonly picture: PictureSize
}

export interface FitAnswer {
  readonly fit: Fit
}

self.addEventListener('message', ({ data: question }: MessageEvent<FitQuestion>) => {
  const answer: FitAnswer = { fit: fitMarks(question.board, question.marks, question.picture) }
  self.postMessage(answer)
})
