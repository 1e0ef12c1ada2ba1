import type { DogReport } from '../../../analysis/progress/report-parts.ts'
import { programVersion } from '../../program-version.ts'

/** A report as `dog.json` holds it; its schema is `main/files/dog.schema.json`. */
export function dogFile(report: DogReport) {
  return { schema: 'tiphold.dog/1', program: { version: programVersion }, ...report } as const
}
