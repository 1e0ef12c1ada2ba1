import type { Box } from './raster.ts'

const TILE_PX = 16

/** Which square tiles of the picture have to be drawn again, within a band of rows. */
export class TileMask {
  private readonly width: number
  private readonly rowFrom: number
  private readonly rowTo: number
  private readonly columns: number
  private readonly rows: number
  private readonly marked: Uint8Array

  constructor(width: number, height: number, rowFrom: number, rowTo: number) {
    this.width = width
    this.rowFrom = rowFrom
    this.rowTo = rowTo
    this.columns = Math.ceil(width / TILE_PX)
    this.rows = Math.ceil(height / TILE_PX)
    this.marked = new Uint8Array(this.columns * this.rows)
  }

  markAll(): void {
    this.marked.fill(1)
  }

  markBox(box: Box | null): void {
    if (!box) return
    const left = Math.max(0, Math.floor((box.left - 2) / TILE_PX))
    const right = Math.min(this.columns - 1, Math.floor((box.right + 2) / TILE_PX))
    const top = Math.max(0, Math.floor((box.top - 2) / TILE_PX))
    const bottom = Math.min(this.rows - 1, Math.floor((box.bottom + 2) / TILE_PX))
    for (let y = top; y <= bottom; y++) for (let x = left; x <= right; x++) this.marked[y * this.columns + x] = 1
  }

  /** Visits runs of pixels to draw, as indexes of the first and the one after the last. */
  forEachRun(visit: (start: number, end: number) => void): void {
    for (let y = this.rowFrom; y < this.rowTo; y++) {
      const row = Math.floor(y / TILE_PX) * this.columns
      for (let x = 0; x < this.columns; x++) {
        if (!this.marked[row + x]) continue
        const first = x
        while (x + 1 < this.columns && this.marked[row + x + 1]) x++
        visit(y * this.width + first * TILE_PX, y * this.width + Math.min(this.width, (x + 1) * TILE_PX))
      }
    }
  }
}
