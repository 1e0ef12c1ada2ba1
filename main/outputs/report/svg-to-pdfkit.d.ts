declare module 'svg-to-pdfkit' {
  /** Draws an SVG document into a PDF at a place, pt. */
  export default function SVGtoPDF(
    doc: PDFKit.PDFDocument,
    svg: string,
    x: number,
    y: number,
    options: {
      readonly width: number
      readonly height: number
      readonly assumePt: true
      readonly fontCallback: (family: string, bold: boolean) => string
      readonly warningCallback?: (warning: string) => void
    },
  ): void
}
