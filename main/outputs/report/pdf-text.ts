import { colourOnPaper } from './figure-style.ts'

export const FONT = { regular: 'regular', bold: 'bold' } as const

/** The window's roles on paper. */
export const COLOUR = {
  ink: colourOnPaper('ink'),
  soft: colourOnPaper('ink-soft'),
  line: colourOnPaper('line'),
} as const

/** Where blocks are laid out: a document, and as wide as they may be, pt. */
export interface Box {
  readonly doc: PDFKit.PDFDocument
  readonly widthPt: number
}

/** Something of known height that is drawn at a place and never broken, pt. */
export interface Piece {
  readonly heightPt: number
  readonly draw: (xPt: number, yPt: number) => void
  /** A heading is not left alone at the foot of a sheet. */
  readonly staysWithNext?: boolean
  /** Room between blocks, left out at the head of a sheet. */
  readonly isGap?: boolean
}

export interface TextLook {
  readonly sizePt: number
  readonly colour: string
  readonly bold?: boolean
}

/** A paragraph. */
export function textPiece({ doc, widthPt }: Box, text: string, { sizePt, colour, bold = false }: TextLook): Piece {
  const font = bold ? FONT.bold : FONT.regular
  const options = { width: widthPt, lineGap: 0.18 * sizePt }
  doc.font(font).fontSize(sizePt)
  const heightPt = doc.heightOfString(text, options)
  return {
    heightPt,
    draw: (xPt, yPt) => {
      doc.font(font).fontSize(sizePt).fillColor(colour).text(text, xPt, yPt, options)
    },
  }
}

/** A level line over something. */
export function rule({ doc, widthPt }: Box, xPt: number, yPt: number): void {
  doc
    .moveTo(xPt, yPt)
    .lineTo(xPt + widthPt, yPt)
    .lineWidth(0.6)
    .strokeColor(COLOUR.line)
    .stroke()
}
