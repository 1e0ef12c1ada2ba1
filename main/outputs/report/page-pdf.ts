import PDFDocument from 'pdfkit'
import { fontsForPdf } from './figure-style.ts'
import { type Box, layOut, type Piece } from './pdf-blocks.ts'
import { COLOUR, FONT, textPiece } from './pdf-text.ts'
import type { ReportPage } from './report-page.ts'

/** A4, pt. */
const PAPER = { widthPt: 595.28, heightPt: 841.89, marginPt: 34 } as const
const SECTION_GAP_PT = 11
const FOOT_PT = 22

/** A page as a PDF on A4: needs no browser. Blocks are kept whole where a sheet can hold them. */
export async function pagePdf(page: ReportPage): Promise<Uint8Array> {
  const doc = new PDFDocument({
    size: [PAPER.widthPt, PAPER.heightPt],
    margin: 0,
    bufferPages: true,
    info: { Title: page.title, Creator: 'Tiphold' },
    lang: 'en',
  })
  const { regular, bold } = fontsForPdf()
  doc.registerFont(FONT.regular, regular)
  doc.registerFont(FONT.bold, bold)
  const done = collected(doc)
  const box: Box = { doc, widthPt: PAPER.widthPt - 2 * PAPER.marginPt }
  const pieces = [
    ...header(box, page.title),
    ...page.blocks.flatMap((block) => [...layOut(block, box), gap(SECTION_GAP_PT)]),
    ...page.foot.map((line) => textPiece(box, line, { sizePt: 7.5, colour: COLOUR.soft })),
  ]
  putOnSheets(doc, pieces)
  numberSheets(doc, page.title)
  doc.end()
  return done
}

function header(box: Box, title: string): readonly Piece[] {
  return [
    textPiece(box, 'Tiphold', { sizePt: 8.5, colour: COLOUR.soft }),
    textPiece(box, title, { sizePt: 15, bold: true, colour: COLOUR.ink }),
    gap(8),
  ]
}

function gap(heightPt: number): Piece {
  return { heightPt, isGap: true, draw: () => undefined }
}

/** One below the other; what does not fit below goes to the next sheet, headings with what they head. */
function putOnSheets(doc: PDFKit.PDFDocument, pieces: readonly Piece[]): void {
  const bottomPt = PAPER.heightPt - PAPER.marginPt - FOOT_PT
  let yPt: number = PAPER.marginPt
  for (const [k, piece] of pieces.entries()) {
    let neededPt = piece.heightPt
    for (let last = k; pieces[last]?.staysWithNext === true; last++) neededPt += pieces[last + 1]?.heightPt ?? 0
    const isFresh = yPt <= PAPER.marginPt
    if (!isFresh && yPt + neededPt > bottomPt) {
      doc.addPage()
      yPt = PAPER.marginPt
    }
    if (piece.isGap === true && yPt <= PAPER.marginPt) continue
    piece.draw(PAPER.marginPt, yPt)
    yPt += piece.heightPt
  }
}

function numberSheets(doc: PDFKit.PDFDocument, title: string): void {
  const { start, count } = doc.bufferedPageRange()
  if (count < 2) return
  for (let k = start; k < start + count; k++) {
    doc.switchToPage(k)
    const words = `${title}  ·  ${k - start + 1} of ${count}`
    doc.font(FONT.regular).fontSize(7.5).fillColor(COLOUR.soft)
    doc.text(words, PAPER.marginPt, PAPER.heightPt - PAPER.marginPt, { lineBreak: false })
  }
}

function collected(doc: PDFKit.PDFDocument): Promise<Uint8Array> {
  return new Promise((resolve, reject) => {
    const chunks: Buffer[] = []
    doc.on('data', (chunk: Buffer) => chunks.push(chunk))
    doc.on('end', () => resolve(Buffer.concat(chunks)))
    doc.on('error', reject)
  })
}
