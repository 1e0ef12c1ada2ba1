import { join } from 'node:path'
import { type CommandEnd, exitCodes, type ShowcheckCommand } from './command.ts'
import { askedRules } from './asked-rules.ts'
import { wrongUsage } from './command-end.ts'
import { prepareOutputFolder, writingResults } from '../files/output-folder.ts'
import { writeWholeBytes } from '../files/whole-file.ts'
import { dogOfRides } from '../outputs/progress/rides-file.ts'
import { readRides } from '../outputs/progress/rides-source.ts'
import { libraryFeels } from '../services/library-feels.ts'
import { SHOW_FILES, showFiles } from '../outputs/progress/show-files.ts'
import { showQuestion } from '../outputs/progress/show-question.ts'

/** Says how likely a dog leaves early or misses the down contact on a board at a show. */
export async function showcheckCommand(command: ShowcheckCommand): Promise<CommandEnd> {
  const rules = await askedRules(command.rules, command.libraryFolder)
  if (!rules.ok) return wrongUsage(rules.message)
  const rides = await readRides(command, libraryFeels)
  if (!rides.ok) return wrongUsage(rides.message)
  const dog = dogOfRides(rides.value, command.dog)
  if (!dog.ok) return wrongUsage(dog.message)
  const question = showQuestion({ ...command, rules: rules.value }, rides.value, dog.value)
  if (!question.ok) return wrongUsage(question.message)
  const folder = await prepareOutputFolder(command.outDir)
  if (!folder.ok) return wrongUsage(folder.message)
  const { json, make } = showFiles(dog.value, question.value)
  const path = (name: string) => join(folder.value, name)
  await writingResults(async () => {
    for (const name of SHOW_FILES) await writeWholeBytes(path(name), await make(name))
  })
  const lines = [...json.sentences, ...json.cautions, path('showcheck.html')]
  return { exitCode: exitCodes.measured, lines, complaint: null }
}
