import type { Answer } from '../../analysis/words/answers.ts'
import { capitalised, listInWords } from '../../analysis/words/in-words.ts'
import { durationScale } from './interval-scale.ts'
import { type Markup, markup } from './markup.ts'
import type { NumberRow } from '../../analysis/words/number-rows.ts'
import type { WithheldGroup } from '../../analysis/words/withheld-list.ts'

/** One answer as a sentence whose number stands out. */
export function answerBlock({ lead, figure, margin, more, durationS }: Answer): Markup {
  return markup`<div class="answer"><p><span class="lead">${lead}</span> <strong>${figure}${margin === null ? '.' : ','}</strong>${margin === null ? null : markup` <span class="margin">${margin}.</span>`}</p>
    ${durationS === null ? null : durationScale(durationS)}
    ${more === null ? null : markup`<p class="more">${more}</p>`}</div>`
}

/** What could not be told and why; nothing where all could. */
export function withheldSection(groups: readonly WithheldGroup[]): Markup | null {
  if (groups.length === 0) return null
  return markup`<section class="withheld"><h2>Not measured, and why</h2><dl>${groups.map(
    ({ names, detail }) => markup`<div><dt>${capitalised(listInWords(names))}</dt><dd>${detail}</dd></div>`,
  )}</dl></section>`
}

export function notesSection(sentences: readonly string[]): Markup | null {
  if (sentences.length === 0) return null
  return markup`<section class="notes"><h2>Good to know</h2><ul>${sentences.map((sentence) => markup`<li>${sentence}</li>`)}</ul></section>`
}

export function numbersTable(rows: readonly NumberRow[]): Markup {
  return markup`<table>${rows.map(
    ({ name, value, margin }) => markup`<tr><th scope="row">${name}</th><td>${value}</td><td>${margin}</td></tr>`,
  )}</table>`
}
