import type { Drop, DropTestFile } from '../../analysis/drop/drop-test.ts'
import type { Board } from '../../analysis/board/board.ts'
import { RULE_SETS } from '../../analysis/rules/rule-sets.ts'
import { dropPlaceInWords, dropTimeInWords, sourceInWords } from '../../analysis/rules/rule-words.ts'
import { answerBlock, notesSection, numbersTable, withheldSection } from './blocks.ts'
import { cautions } from './cautions.ts'
import { dropAnswers } from './drop-answers.ts'
import { dropChart } from './drop-chart.ts'
import { fixed, placeInWords } from '../../analysis/words/in-words.ts'
import { type Markup, markup } from './markup.ts'
import { DURATION, knownRows, MOMENT } from '../../analysis/words/number-rows.ts'
import { asIs, smallLengthTold } from '../../analysis/words/units.ts'
import { page } from './page.ts'
import { type Still, stillFigure } from './still-figure.ts'
import { groupedByDetail } from '../../analysis/words/withheld-list.ts'

/** The report of one board's drop tests; `stills[k]` belong to `file.drops[k]`. */
export function dropPage(file: DropTestFile, board: Board, stills: readonly (readonly Still[])[]): string {
  const { physics, drops } = file
  const boardRows = knownRows([
    ['Inertia of the board about its axis', physics.inertiaKgM2, asIs('kg m²', 2)],
    ['Torque that holds the entry end down', physics.biasTorqueNm, asIs('N m', 2)],
    ['Friction, steady part', physics.coulombNm, asIs('N m', 2)],
    ['Friction, part that grows with speed', physics.viscousNms, asIs('N m s', 2)],
  ])
  const [only] = drops
  const title = drops.length === 1 && only !== undefined ? `Drop test in ${only.clip}` : `${drops.length} drop tests`
  return page(
    title,
    markup`
<header><b>Tiphold</b><span>${title}</span></header>
${drops.map((drop, k) => dropSection(drop, board, stills[k] ?? []))}
${boardRows.length === 0 ? null : markup`<section class="numbers"><h2>The board</h2>${numbersTable(boardRows)}</section>`}
${withheldSection(
  groupedByDetail([
    ['the inertia of the board', physics.inertiaKgM2],
    ['the torque that holds the entry end down', physics.biasTorqueNm],
    ['its friction', physics.coulombNm],
  ]),
)}
${ruleBooks()}
${cautions('drop')}
<footer><p>Tiphold ${file.program.version}</p></footer>`,
  )
}

function dropSection(drop: Drop, board: Board, stills: readonly Still[]): Markup {
  const { events, measures } = drop
  const rows = knownRows([
    ['Weight placed', events.placed, MOMENT],
    ['Weight let go', events.released, MOMENT],
    ['Board began to tip', events.tipStart, MOMENT],
    ['Board landed', events.grounded, MOMENT],
    ['From placing to the landing', measures.fallFromPlacedS, DURATION],
    ['From letting go to the landing', measures.fallFromReleasedS, DURATION],
    ['Bounce of the exit end', measures.bounceM, smallLengthTold('metric')],
  ])
  const missing = groupedByDetail([
    ['when the weight was placed', events.placed],
    ['when it was let go', events.released],
    ['when the board began to tip', events.tipStart],
    ['when it landed', events.grounded],
    ['the time from placing to the landing', measures.fallFromPlacedS],
    ['the time from letting go to the landing', measures.fallFromReleasedS],
    ['the bounce', measures.bounceM],
  ])
  const [firstStill, ...furtherStills] = stills
  const weight = `${fixed(drop.massKg, 2)} kg, ${placeInWords(drop.massAtM, board.lengthM)}`
  return markup`<section class="drop"><p class="quiet-text">${drop.clip}: ${weight}</p>
  <div class="top"><div class="answers">${dropAnswers(drop).map(answerBlock)}</div>
  <div>${firstStill === undefined ? null : stillFigure(firstStill)}</div></div></section>
<section class="chart"><h2>The board’s angle</h2><div class="wide">${dropChart(drop)}</div></section>
${furtherStills.length === 0 ? null : markup`<section class="stills">${furtherStills.map(stillFigure)}</section>`}
${withheldSection(missing)}${notesSection(drop.notes)}
${rows.length === 0 ? null : markup`<section class="numbers"><h2>All numbers</h2>${numbersTable(rows)}</section>`}`
}

/** What rule books ask of a board, with how well that is known. */
function ruleBooks(): Markup {
  const rows = RULE_SETS.flatMap(({ name, drop }) =>
    drop === null
      ? []
      : [
          markup`<tr><th scope="row">${name}</th><td>${fixed(drop.says.massKg, 3)} kg ${dropPlaceInWords(drop.says.where)}</td><td>${dropTimeInWords(drop.says)}</td><td>${sourceInWords(drop.source)}</td></tr>`,
        ],
  )
  return markup`<section class="numbers"><h2>What rule books ask for</h2>
  <table>${rows}</table>
  <p class="quiet-text">Rules change: check your own rule book.</p></section>`
}
