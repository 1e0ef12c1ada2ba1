import { openLibrary } from '../../main/library/open-library.ts'
import { inFolder, orHangs, startChild, type TalkingChild, type TrialResult } from './trial.ts'

/** Two programs open one library at the same moment, again and again: one gets it, the other says that it is in use. */
export async function twoProgramsTrial(rounds: number): Promise<TrialResult> {
  const faults: string[] = []
  await inFolder(async (folder) => {
    const kept: string[] = []
    for (let round = 0; round < rounds; round++) {
      const names = [`dog-${round}-a`, `dog-${round}-b`]
      const programs = names.map((name) => startChild('holding-child.ts', [folder, name]))
      const isDecided = (line: string) => line === 'kept' || line === 'refused'
      try {
        await orHangs('one of two programs', Promise.all(programs.map((program) => program.said(isDecided))))
        const winners = names.filter((_name, i) => programs[i]!.lines.includes('open'))
        if (winners.length !== 1) faults.push(`round ${round}: ${winners.length} programs have the library open`)
        kept.push(...winners)
        await Promise.all(programs.map(endIt))
      } finally {
        for (const { child } of programs) child.kill('SIGKILL')
      }
    }
    const library = await openLibrary(folder)
    const gone = kept.filter((name) => library.dogs.get(name) === null || library.dogs.get(name) === undefined)
    faults.push(...gone.map((name) => `${name} was kept and is gone`))
    await library.close()
  })
  return { name: 'two programs', counts: { 'openings at once': rounds }, faults, skipped: null }
}

async function endIt({ child, ended }: TalkingChild): Promise<void> {
  child.stdin?.on('error', () => undefined)
  child.stdin?.end('end\n')
  await orHangs('the end of a program', ended)
}
