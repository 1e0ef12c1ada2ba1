import { existsSync } from 'node:fs'
import { rm } from 'node:fs/promises'
import { join } from 'node:path'

/** The files written about one ride. */
export interface RideFiles {
  readonly json: string
  readonly html: string
  readonly pdf: string
  readonly overlay: string
}

/** Names of the files of the k-th ride in a clip, counted from 0: `ride.json`, `ride-2.json`, ... */
export function rideFiles(outDir: string, k: number): RideFiles {
  const number = k === 0 ? '' : `-${k + 1}`
  return {
    json: join(outDir, `ride${number}.json`),
    html: join(outDir, `ride${number}.html`),
    pdf: join(outDir, `ride${number}.pdf`),
    overlay: join(outDir, `overlay${number}.mp4`),
  }
}

/** The files written about the drop tests of one board. */
export function droptestFiles(outDir: string): Pick<RideFiles, 'json' | 'html' | 'pdf'> {
  const path = (kind: string) => join(outDir, `droptest.${kind}`)
  return { json: path('json'), html: path('html'), pdf: path('pdf') }
}

/** The files written about one board and one rule set. */
export function boardcheckFiles(outDir: string): Pick<RideFiles, 'json' | 'html' | 'pdf'> {
  const path = (kind: string) => join(outDir, `boardcheck.${kind}`)
  return { json: path('json'), html: path('html'), pdf: path('pdf') }
}

/** Removes what an earlier run wrote about further rides, so that a folder never tells of two runs. */
export async function removeFurtherRides(outDir: string, rideCount: number): Promise<void> {
  for (let k = rideCount; existsSync(rideFiles(outDir, k).json); k++) {
    const { json, html, pdf, overlay } = rideFiles(outDir, k)
    for (const path of [json, html, pdf, overlay]) await rm(path, { force: true })
  }
}
