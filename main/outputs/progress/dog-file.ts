import type { BoardMaterial } from '../../../analysis/progress/board-materials.ts'
import type { DogReport } from '../../../analysis/progress/report-parts.ts'
import type { Split } from '../../../analysis/progress/split.ts'
import { programVersion } from '../../program-version.ts'
import type { SaidOfRide } from '../report/dog-page.tsx'

/** A report as `dog.json` holds it; its schema is `main/files/dog.schema.json`. */
export function dogFile(
  report: DogReport,
  said: readonly SaidOfRide[],
  splits: readonly Split[],
  materials: readonly BoardMaterial[],
) {
  const comments = said.flatMap(({ ride, lines }) => lines.map((line) => ({ ride: ride.index, ...line })))
  return {
    schema: 'tiphold.dog/1',
    program: { version: programVersion },
    ...report,
    splits,
    materials,
    comments,
  } as const
}
