import type { SeesawPose } from '../../analysis/calibration/pinhole-seesaw.ts'
import type { Board } from '../../analysis/board/board.ts'
import type { Ride } from '../../analysis/ride/ride.ts'
import { type Answer, answersOf, answerText } from '../../analysis/words/answers.ts'
import type { Units } from '../../analysis/words/units.ts'
import { DurationScale } from '../figures/duration-scale.tsx'
import { measuredBeside } from './measured-beside.ts'
import { TipDrawing } from '../figures/tip-drawing.tsx'

export interface AnswersProps {
  readonly ride: Ride
  readonly measured: Ride
  readonly board: Board
  readonly pose: SeesawPose
  readonly units: Units
}

/** What a handler asks first, in sentences; where a correction changed an answer, the measured one stands below it. */
export function Answers({ ride, measured, board, pose, units }: AnswersProps) {
  const answers = answersOf(ride, board.lengthM, units)
  const { beside, gone } = measuredBeside(answers, answersOf(measured, board.lengthM, units))
  return (
    <section className="answers" aria-label="Answers">
      {answers.map((answer, k) => (
        <div key={answer.lead} className="answer">
          <AnswerSentence answer={answer} />
          {answer.durationS === null ? null : <DurationScale duration={answer.durationS} />}
          {beside[k] == null ? null : <MeasuredBeside answer={beside[k]} />}
        </div>
      ))}
      {gone.map((answer) => (
        <MeasuredBeside key={answer.lead} answer={answer} />
      ))}
      <TipDrawing
        board={board}
        pose={pose}
        leadPawM={ride.measures.leadPawAtTipM}
        bodyM={ride.measures.bodyAtTipM}
        size="small"
      />
    </section>
  )
}

function MeasuredBeside({ answer }: { readonly answer: Answer }) {
  return (
    <p className="measured-beside">
      <span className="by-hand-mark">By hand.</span> Measured: {answerText(answer)}
    </p>
  )
}

/** A number stays in one line with its unit. */
function unbroken(words: string): string {
  return words.replace(/(\d) (m|s|in)\b/g, '$1\u00a0$2').replace(/± /g, '±\u00a0')
}

function AnswerSentence({ answer: { lead, figure, margin, tail, more } }: { readonly answer: Answer }) {
  return (
    <>
      <p>
        <span className="answer-lead">{lead}</span> <strong className="answer-figure">{unbroken(figure)}</strong>
        {margin === null ? null : <span className="answer-margin"> {unbroken(margin)}</span>}
        <strong className="answer-figure">{tail === null ? '.' : ` ${tail}.`}</strong>
      </p>
      {more === null ? null : <p className="answer-more">{more}</p>}
    </>
  )
}
