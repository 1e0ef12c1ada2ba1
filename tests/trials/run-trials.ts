import { parseArgs } from 'node:util'
import { damagedClipsTrial } from './damaged-clips-trial.ts'
import { fullDiskTrial } from './full-disk.ts'
import { hostilePacksTrial } from './hostile-packs-trial.ts'
import { hostileRequestsTrial } from './hostile-requests.ts'
import { killsTrial } from './kills.ts'
import { trialLine, type TrialResult } from './trial.ts'
import { twoProgramsTrial } from './two-programs.ts'

/**
 * `npm run trials`: faults that a program meets in the world, in numbers. Prints what was tried and what went wrong;
 * ends with 1 when anything was lost, hung or got in.
 * `npm run trials -- --kills 20 --full-disks 5 --two-programs 5 --damaged-clips 12 --hostile-packs 50`
 */
const { values } = parseArgs({
  options: {
    kills: { type: 'string', default: '200' },
    'full-disks': { type: 'string', default: '20' },
    'two-programs': { type: 'string', default: '20' },
    'damaged-clips': { type: 'string', default: '300' },
    'hostile-packs': { type: 'string', default: '500' },
  },
})

const trials: readonly (() => Promise<TrialResult>)[] = [
  () => hostileRequestsTrial(),
  () => hostilePacksTrial(Number(values['hostile-packs'])),
  () => twoProgramsTrial(Number(values['two-programs'])),
  () => fullDiskTrial(Number(values['full-disks'])),
  () => killsTrial(Number(values.kills)),
  () => damagedClipsTrial(Number(values['damaged-clips'])),
]

let faults = 0
for (const trial of trials) {
  const result = await trial()
  faults += result.faults.length
  console.log(trialLine(result))
  for (const fault of result.faults) console.log(`  ${fault}`)
}
process.exit(faults === 0 ? 0 : 1)
