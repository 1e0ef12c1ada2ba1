import { writeFileSync } from 'node:fs'
import { demoSeason } from './demo-season.ts'

/** Writes the invented season anew: `npx tsx sample-clips/season/write-season.ts`. */
writeFileSync(new URL('rides.json', import.meta.url), `${JSON.stringify(demoSeason())}\n`)
