import type { ReactElement } from 'react'
import { renderToStaticMarkup } from 'react-dom/server'
import SVGtoPDF from 'svg-to-pdfkit'
import { figureStyleOnPaper } from './figure-style.ts'
import { type Box, FONT, type Piece } from './pdf-text.ts'

const STYLE = figureStyleOnPaper()

/** A figure of `renderer/figures/` as wide as the box, or as `mostPt`. */
export function figurePiece(box: Box, figure: ReactElement, mostPt = Infinity): Piece {
  const svg = renderToStaticMarkup(figure)
  const view = /^<svg[^>]*viewBox="([^"]+)"/.exec(svg)?.[1]?.split(' ').map(Number)
  const [, , unitsWide = 0, unitsHigh = 0] = view ?? []
  if (!(unitsWide > 0 && unitsHigh > 0)) throw new Error('A figure of a page must be an SVG with a view box.')
  const widthPt = Math.min(box.widthPt, mostPt)
  const heightPt = (widthPt * unitsHigh) / unitsWide
  // The style goes in first; a size of its own would fight the one it is given here.
  const styled = svg
    .replace(/^<svg([^>]*)>/, (_, attributes: string) => `<svg${attributes.replace(/ (width|height)="[^"]*"/g, '')}>`)
    .replace('>', `><style>${STYLE}</style>`)
  return {
    heightPt,
    draw: (xPt, yPt) =>
      SVGtoPDF(box.doc, styled, xPt, yPt, {
        width: widthPt,
        height: heightPt,
        assumePt: true,
        fontCallback: (_, bold) => (bold ? FONT.bold : FONT.regular),
        warningCallback: (warning) => {
          throw new Error(`A figure cannot be written as PDF: ${warning}`)
        },
      }),
  }
}
