import { figurePiece } from './pdf-figure.ts'
import { type Box, COLOUR, FONT, type Piece, rule, textPiece } from './pdf-text.ts'
import type { Block, Card } from './report-page.ts'

export type { Box, Piece } from './pdf-text.ts'

const TEXT = { sizePt: 9, colour: COLOUR.ink } as const
const SOFT = { sizePt: 8.2, colour: COLOUR.soft } as const
const HEADING = { sizePt: 9, colour: COLOUR.soft, bold: true } as const
const COLUMN_GAP_PT = 22
const BLOCK_GAP_PT = 6

/** A block as pieces, one below the other. */
export function layOut(block: Block, box: Box): readonly Piece[] {
  switch (block.kind) {
    case 'columns':
      return [columns(block, box)]
    case 'section':
      return [
        { ...textPiece(box, block.title, HEADING), staysWithNext: true },
        { ...gap(3), staysWithNext: true },
        ...block.blocks.flatMap((inner, k) => [...(k === 0 ? [] : [gap(BLOCK_GAP_PT)]), ...layOut(inner, box)]),
      ]
    case 'answer':
      return [answer(block, box)]
    case 'cards':
      return [cards(block.cards, box)]
    case 'text':
      return [textPiece(box, block.text, block.tone === 'soft' ? SOFT : TEXT)]
    case 'figure':
      return [figure(block, box)]
    case 'legend':
      return [legend(block.signs, box)]
    case 'facts':
      return block.facts.map(({ name, text }) => row(box, [name, text], [2, 5], true))
    case 'list':
      return block.items.map((item) => stack([textPiece(box, item, block.tone === 'soft' ? SOFT : TEXT), gap(2.5)]))
    case 'table':
      return table(block, box)
  }
}

function gap(heightPt: number): Piece {
  return { heightPt, isGap: true, draw: () => undefined }
}

/** Pieces that stay together. */
function stack(pieces: readonly Piece[]): Piece {
  return {
    heightPt: pieces.reduce((sum, { heightPt }) => sum + heightPt, 0),
    draw: (xPt, yPt) => {
      let atPt = yPt
      for (const { heightPt, draw } of pieces) {
        draw(xPt, atPt)
        atPt += heightPt
      }
    },
  }
}

function spaced(blocks: readonly Block[], box: Box, gapPt: number): Piece {
  return stack(blocks.flatMap((block, k) => [...(k === 0 ? [] : [gap(gapPt)]), ...layOut(block, box)]))
}

/** Pieces beside each other. */
function beside(parts: readonly { readonly piece: Piece; readonly atPt: number }[]): Piece {
  return {
    heightPt: Math.max(0, ...parts.map(({ piece }) => piece.heightPt)),
    draw: (xPt, yPt) => {
      for (const { piece, atPt } of parts) piece.draw(xPt + atPt, yPt)
    },
  }
}

function shares(
  widthPt: number,
  parts: readonly number[],
  gapPt: number,
): readonly { atPt: number; widthPt: number }[] {
  const perShare = (widthPt - gapPt * (parts.length - 1)) / parts.reduce((sum, part) => sum + part, 0)
  let atPt = 0
  return parts.map((part) => {
    const place = { atPt, widthPt: part * perShare }
    atPt += place.widthPt + gapPt
    return place
  })
}

function columns({ columns: parts }: Extract<Block, { kind: 'columns' }>, { doc, widthPt }: Box): Piece {
  const places = shares(
    widthPt,
    parts.map(({ share }) => share),
    COLUMN_GAP_PT,
  )
  return beside(
    parts.map(({ blocks }, k) => {
      const place = places[k]!
      return { piece: spaced(blocks, { doc, widthPt: place.widthPt }, 10), atPt: place.atPt }
    }),
  )
}

const FIGURE = { sizePt: 13.5, colour: COLOUR.ink, bold: true }

function answer({ sentence, scale }: Extract<Block, { kind: 'answer' }>, box: Box): Piece {
  const { lead, figure: words, margin, tail, more } = sentence
  return stack([
    textPiece(box, lead, { ...TEXT, colour: COLOUR.soft }),
    textPiece(box, `${[words, margin, tail].filter((part) => part !== null).join(' ')}.`, FIGURE),
    ...(scale === null ? [] : [gap(3), figurePiece(box, scale, 200)]),
    ...(more === null ? [] : [gap(1), textPiece(box, more, SOFT)]),
  ])
}

function cards(all: readonly Card[], box: Box): Piece {
  const places = shares(
    box.widthPt,
    all.map(() => 1),
    10,
  )
  const padPt = 8
  const insides = all.map((card, k) => cardInside(card, { doc: box.doc, widthPt: places[k]!.widthPt - 2 * padPt }))
  const heightPt = Math.max(...insides.map((inside) => inside.heightPt)) + 2 * padPt
  return {
    heightPt,
    draw: (xPt, yPt) => {
      for (const [k, inside] of insides.entries()) {
        const { atPt, widthPt } = places[k]!
        box.doc
          .roundedRect(xPt + atPt, yPt, widthPt, heightPt, 6)
          .lineWidth(0.7)
          .strokeColor(COLOUR.line)
          .stroke()
        inside.draw(xPt + atPt + padPt, yPt + padPt)
      }
    },
  }
}

const SHAPE_PT = 12

function cardInside({ title, shape, word, scale, text }: Card, box: Box): Piece {
  const besidePt = shape === null ? 0 : SHAPE_PT + 5
  const wordPiece = textPiece({ doc: box.doc, widthPt: box.widthPt - besidePt }, word, {
    sizePt: 11,
    colour: COLOUR.ink,
    bold: true,
  })
  const shapePart = shape === null ? [] : [{ piece: figurePiece(box, shape, SHAPE_PT), atPt: 0 }]
  return stack([
    textPiece(box, title, SOFT),
    gap(1),
    beside([...shapePart, { piece: wordPiece, atPt: besidePt }]),
    ...(scale === null ? [] : [gap(3), figurePiece(box, scale, 150)]),
    ...(text === '' ? [] : [gap(2), textPiece(box, text, SOFT)]),
  ])
}

function figure({ figure: element, caption }: Extract<Block, { kind: 'figure' }>, box: Box): Piece {
  const drawing = figurePiece(box, element)
  if (caption === null) return drawing
  return stack([
    drawing,
    gap(2),
    textPiece(box, caption.title, { ...SOFT, colour: COLOUR.ink, bold: true }),
    textPiece(box, caption.facts, SOFT),
  ])
}

const SIGN_PT = 16

function legend(signs: Extract<Block, { kind: 'legend' }>['signs'], box: Box): Piece {
  const { doc } = box
  doc.font(FONT.regular).fontSize(SOFT.sizePt)
  let atPt = 0
  const parts = signs.flatMap(({ sign, words }) => {
    const wordsPt = doc.widthOfString(words) + 2
    const parts = [
      { piece: figurePiece(box, sign, SIGN_PT), atPt },
      { piece: textPiece({ doc, widthPt: wordsPt }, words, SOFT), atPt: atPt + SIGN_PT + 5 },
    ]
    atPt += SIGN_PT + 5 + wordsPt + 14
    return parts
  })
  return beside(parts)
}

function table({ head, rows }: Extract<Block, { kind: 'table' }>, box: Box): readonly Piece[] {
  const all = head === null ? rows : [head, ...rows]
  const widths = columnShares(all, box)
  return [
    ...(head === null ? [] : [{ ...row(box, head, widths, false, SOFT), staysWithNext: true }]),
    ...rows.map((cells) => row(box, cells, widths, false)),
  ]
}

/** Columns as wide as their longest words ask for, beside one another. */
function columnShares(rows: readonly (readonly string[])[], { doc }: Box): readonly number[] {
  doc.font(FONT.regular).fontSize(SOFT.sizePt)
  const count = Math.max(...rows.map((cells) => cells.length))
  return Array.from({ length: count }, (_, k) =>
    Math.max(20, ...rows.map((cells) => Math.min(170, doc.widthOfString(cells[k] ?? '')))),
  )
}

function row(
  box: Box,
  cells: readonly string[],
  widths: readonly number[],
  boldName: boolean,
  look = TEXT_IN_ROWS,
): Piece {
  const padPt = 2.2
  const places = shares(box.widthPt, widths, 12)
  const line = beside(
    cells.map((cell, k) => {
      const { atPt, widthPt } = places[k]!
      const colour = k > 0 && k === widths.length - 1 ? COLOUR.soft : look.colour
      const cellBox = { doc: box.doc, widthPt }
      return { piece: textPiece(cellBox, cell, { ...look, colour, bold: boldName && k === 0 }), atPt }
    }),
  )
  return {
    heightPt: line.heightPt + 2 * padPt,
    draw: (xPt, yPt) => {
      rule(box, xPt, yPt)
      line.draw(xPt, yPt + padPt)
    },
  }
}

const TEXT_IN_ROWS: { readonly sizePt: number; readonly colour: string } = { sizePt: 8.2, colour: COLOUR.ink }
