import type { ReactElement } from 'react'
import type { ClipInfo } from '../../../analysis/clip/frame.ts'
import type { Answer } from '../../../analysis/words/answers.ts'
import { capitalised, fixed, listInWords } from '../../../analysis/words/in-words.ts'
import type { NumberRow } from '../../../analysis/words/number-rows.ts'
import type { WithheldGroup } from '../../../analysis/words/withheld-list.ts'
import { DurationScale } from '../../../renderer/figures/duration-scale.tsx'
import { StillPicture } from '../../../renderer/figures/still-picture.tsx'
import type { Block } from './report-page.ts'
import type { Still } from './take-stills.ts'

/** One answer, with its duration on a scale where it has one. */
export function answerBlock({ durationS, ...sentence }: Answer): Block {
  const scale = durationS === null || durationS.kind === 'withheld' ? null : <DurationScale duration={durationS} />
  return { kind: 'answer', sentence, scale }
}

/** A figure that needs no caption. */
export function figureBlock(figure: ReactElement): Block {
  return { kind: 'figure', figure, caption: null }
}

/** A section, or nothing where there is nothing to say. */
export function sectionOf(title: string, blocks: readonly Block[]): readonly Block[] {
  return blocks.length === 0 ? [] : [{ kind: 'section', title, blocks }]
}

/** What could not be told and why; nothing where all could. */
export function withheldSection(groups: readonly WithheldGroup[]): readonly Block[] {
  const facts = groups.map(({ names, detail }) => ({ name: capitalised(listInWords(names)), text: detail }))
  return sectionOf('Not measured, and why', facts.length === 0 ? [] : [{ kind: 'facts', facts }])
}

export function notesSection(items: readonly string[]): readonly Block[] {
  return sectionOf('Good to know', items.length === 0 ? [] : [{ kind: 'list', items, tone: 'plain' }])
}

export function cautionsSection(items: readonly string[]): Block {
  return { kind: 'section', title: 'Keep in mind', blocks: [{ kind: 'list', items, tone: 'soft' }] }
}

export function numbersBlock(rows: readonly NumberRow[]): Block {
  return { kind: 'table', head: null, rows: rows.map(({ name, value, margin }) => [name, value, margin]) }
}

/** A frame of the clip with the measurement on it, and which frame it is. */
export function stillBlock({ caption, ptsS, frameIndex, boardAngleDeg, jpeg, view, drawing }: Still): Block {
  const facts = [
    `${fixed(ptsS, 3)} s`,
    `frame ${frameIndex}`,
    boardAngleDeg === null ? 'board not followed here' : `board ${fixed(boardAngleDeg, 1)}°`,
  ].join('  ·  ')
  const href = `data:image/jpeg;base64,${Buffer.from(jpeg).toString('base64')}`
  const figure = <StillPicture href={href} label={caption} view={view} drawing={drawing} />
  return { kind: 'figure', figure, caption: { title: caption, facts } }
}

/** Stills in pairs. */
export function stillRows(stills: readonly Still[]): readonly Block[] {
  const pairs = Array.from({ length: Math.ceil(stills.length / 2) }, (_, k) => stills.slice(2 * k, 2 * k + 2))
  return pairs.map((pair) => ({
    kind: 'columns',
    columns: [0, 1].map((k) => ({ share: 1, blocks: pair.slice(k, k + 1).map(stillBlock) })),
  }))
}

/** What the clip is, for the foot of a page. */
export function clipFacts(clip: ClipInfo): string {
  const turned = clip.rotationDeg === 0 ? [] : [`turned by ${clip.rotationDeg}°`]
  const slowed =
    clip.slowMotionFactor === 1 ? [] : [`slowed ${fixed(clip.slowMotionFactor, 2).replace(/\.?0+$/, '')} times`]
  return [
    clip.fileName,
    `${clip.widthPx} × ${clip.heightPx}`,
    ...turned,
    `${clip.frameCount} frames in ${fixed(clip.durationS, 2)} s`,
    `filmed at ${fixed(clip.captureRateHz, 2).replace(/\.?0+$/, '')} frames a second`,
    ...slowed,
  ].join(', ')
}
