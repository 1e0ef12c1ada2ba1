import { scaleLinear } from 'd3-scale'
import type { Estimate, Measured } from '../../analysis/estimate.ts'
import { fixed } from '../../analysis/words/in-words.ts'
import { type Markup, markup } from './markup.ts'
import type { VerdictCard } from '../../analysis/words/verdict-cards.ts'

/** A duration with its interval on a scale from 0: dot, band, and an arrow where it is only known from below. */
export function durationScale(duration: Estimate): Markup | null {
  if (duration.kind === 'withheld') return null
  const highest = duration.kind === 'measured' ? duration.ci95[1] : duration.value
  const endS = Math.max(1, Math.ceil(highest * 1.15 * 2) / 2)
  const x = scaleLinear([0, endS], [4, 316]).clamp(true)
  const ticks = x.ticks(endS <= 2 ? 4 : 6)
  return markup`<svg class="scale" viewBox="0 0 320 34" aria-hidden="true">
    <line class="axis" x1="4" x2="316" y1="12" y2="12"/>
    ${ticks.map((tickS) => markup`<line class="axis" x1="${x(tickS)}" x2="${x(tickS)}" y1="9" y2="15"/>`)}
    ${duration.kind === 'measured' ? dotWithBand(duration, x) : arrowFrom(x(duration.value))}
    <text x="4" y="31">0 s</text><text x="316" y="31" text-anchor="end">${fixed(endS, 1)} s</text>
  </svg>`
}

/** The number behind a verdict, beside the border that decides it. */
export function verdictScale({ kind, value }: NonNullable<VerdictCard['scale']>, contactM: number): Markup {
  return kind === 'leaving' ? leavingScale(value) : zoneScale(kind, value, contactM)
}

/** Clearance along the plank: the zone is the amber part, its inner border the tick. */
function zoneScale(kind: 'up' | 'down', clearance: Measured, contactM: number): Markup {
  const outerM = Math.max(0.4 * contactM, clearance.ci95[1] * 1.1)
  const domain = kind === 'up' ? [-contactM, outerM] : [outerM, -contactM]
  const x = scaleLinear(domain, [4, 196]).clamp(true)
  const [left, right] = kind === 'up' ? [4, x(0)] : [x(0), 196]
  return markup`<svg class="scale" viewBox="0 0 200 24" aria-hidden="true">
    <line class="axis" x1="4" x2="196" y1="12" y2="12"/>
    <rect class="zone" x="${left}" y="9" width="${right - left}" height="6"/>
    <line class="border" x1="${x(0)}" x2="${x(0)}" y1="4" y2="20"/>
    ${dotWithBand(clearance, x)}
  </svg>`
}

/** Leaving against the landing: the tick is the landing, time runs right. */
function leavingScale(margin: Measured): Markup {
  const reachS = Math.max(0.5, 1.15 * Math.max(Math.abs(margin.ci95[0]), Math.abs(margin.ci95[1])))
  const x = scaleLinear([-reachS * (margin.value < 0 ? 1 : 0.4), reachS * (margin.value < 0 ? 0.4 : 1)], [4, 196])
  return markup`<svg class="scale" viewBox="0 0 200 27" aria-hidden="true">
    <line class="axis" x1="4" x2="196" y1="8" y2="8"/>
    <line class="border" x1="${x(0)}" x2="${x(0)}" y1="1" y2="15"/>
    <g transform="translate(0 -4)">${dotWithBand(margin, x)}</g>
    <text class="small" x="${x(0)}" y="24" text-anchor="middle">landing</text>
  </svg>`
}

function dotWithBand(estimate: Measured, x: (value: number) => number): Markup {
  const [from, to] = estimate.ci95.map(x).sort((a, b) => a - b) as [number, number]
  return markup`<line class="interval" x1="${from}" x2="${to}" y1="12" y2="12"/>
    <circle class="value" cx="${x(estimate.value)}" cy="12" r="5"/>`
}

function arrowFrom(fromPx: number): Markup {
  return markup`<line class="interval" x1="${fromPx}" x2="308" y1="12" y2="12"/>
    <circle class="value" cx="${fromPx}" cy="12" r="5"/><path class="value" d="M306,6 L316,12 L306,18 Z"/>`
}
