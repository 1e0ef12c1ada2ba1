import { join } from 'node:path'

/** Clips with truth that lie beside a checkout and are not part of it: not every machine has them. */
export const FILMED_CLIPS = join(import.meta.dirname, '../../../shared/clips')
