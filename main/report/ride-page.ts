import type { Ride } from '../../analysis/ride/ride.ts'
import type { MeasuredRide } from '../measuring/measured-ride.ts'
import { answersOf } from '../../analysis/words/answers.ts'
import { answerBlock, notesSection, numbersTable, withheldSection } from './blocks.ts'
import { cautions } from './cautions.ts'
import { verdictScale } from './interval-scale.ts'
import { fixed, placeInWords } from '../../analysis/words/in-words.ts'
import { type Markup, markup } from './markup.ts'
import { numberRows } from '../../analysis/words/number-rows.ts'
import { clipFacts, page } from './page.ts'
import { plankChart } from './plank-chart.ts'
import { plankDrawing } from './plank-drawing.ts'
import { type Still, stillFigure } from './still-figure.ts'
import { type VerdictCard, verdictCards } from '../../analysis/words/verdict-cards.ts'
import { verdictShape } from './verdict-shape.ts'
import { withheldGroups } from '../../analysis/words/withheld-list.ts'

/** The report of one ride: a self-contained page that reads without a script and prints on A4. */
export function ridePage({ ride, picture }: MeasuredRide, stills: readonly Still[]): string {
  const { board } = picture
  const [firstStill, ...furtherStills] = stills
  return page(
    `Ride in ${ride.clip.fileName}`,
    markup`
<header><b>Tiphold</b><span>Ride in ${ride.clip.fileName}</span></header>
<section class="top">
  <div class="answers">${answersOf(ride, board.lengthM).map(answerBlock)}</div>
  <div>${firstStill === undefined ? null : stillFigure(firstStill)}${plankDrawing(ride, picture)}</div>
</section>
<section class="cards">${verdictCards(ride).map((card) => verdictCard(card, board.contactM))}</section>
<section class="chart">
  <h2>The ride along the plank</h2>
  ${legend()}
  <div class="wide">${plankChart(ride, board, picture.sound)}</div>
  ${stops(ride, board.lengthM)}
</section>
${furtherStills.length === 0 ? null : markup`<section class="stills">${furtherStills.map(stillFigure)}</section>`}
${withheldSection(withheldGroups(ride))}
${notesSection(ride.notes)}
<section class="numbers">
  <h2>All numbers</h2>
  ${numbersTable(numberRows(ride, board.lengthM))}
  <p class="quiet-text">Times are seconds of the clip, places metres from the pivot. “Give or take” holds the true value in 95 of 100 cases.</p>
</section>
${cautions('ride')}
<footer>
  <p>Clip: ${clipFacts(ride.clip)}. ${ride.clip.slowMotionEvidence}</p>
  <p>Tiphold ${ride.program.version}  ·  clip ${ride.clip.sha256.slice(0, 12)}</p>
</footer>`,
  )
}

function verdictCard(card: VerdictCard, contactM: number): Markup {
  return markup`<article class="card">
    <h3>${card.title}</h3>
    <p class="word">${verdictShape(card.shape)}${card.word}</p>
    ${card.scale === null ? null : verdictScale(card.scale, contactM)}
    <p class="facts-text">${card.sentences.join(' ')}</p>
  </article>`
}

function legend(): Markup {
  const key = (name: string, text: string) =>
    markup`<span class="key"><svg viewBox="0 0 22 10" aria-hidden="true"><rect class="${name}" x="1" y="2" width="20" height="6" rx="3"/></svg>${text}</span>`
  return markup`<p class="legend">${key('paw front', 'front paw down')}${key('paw hind', 'hind paw down')}${key('dog-band', 'dog, from rearmost to foremost paw')}${key('fall', 'board falling')}</p>`
}

function stops(ride: Ride, lengthM: number): Markup | null {
  const { pauses, turnedBack } = ride.measures
  const sentences = pauses.map(
    ({ fromS, toS, bodyM }) =>
      `Paused for ${fixed(toS - fromS, 2)} s with the body ${placeInWords(bodyM, lengthM)}, from ${fixed(fromS, 2)} s on.`,
  )
  if (turnedBack) sentences.push('Turned back on the way.')
  return sentences.length === 0 ? null : markup`<p>${sentences.join(' ')}</p>`
}
