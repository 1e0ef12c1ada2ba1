import { join } from 'node:path'
import { prepareOutputFolder, writingResults } from '../files/output-folder.ts'
import { writeWholeBytes } from '../files/whole-file.ts'
import { dogOfRides } from '../outputs/progress/rides-file.ts'
import { readRides } from '../outputs/progress/rides-source.ts'
import { libraryFeels } from '../services/library-feels.ts'
import { SEASON_FILES, seasonFiles } from '../outputs/progress/season-files.ts'
import { type CommandEnd, exitCodes, type ReportCommand } from './command.ts'
import { wrongUsage } from './command-end.ts'

/** Writes all that many rides of one dog say together. */
export async function reportCommand(command: ReportCommand): Promise<CommandEnd> {
  const rides = await readRides(command, libraryFeels)
  if (!rides.ok) return wrongUsage(rides.message)
  const dog = dogOfRides(rides.value, command.dog)
  if (!dog.ok) return wrongUsage(dog.message)
  const folder = await prepareOutputFolder(command.outDir)
  if (!folder.ok) return wrongUsage(folder.message)
  const { season } = dog.value
  const { report, make } = seasonFiles(dog.value)
  const path = (name: string) => join(folder.value, name)
  await writingResults(async () => {
    for (const name of SEASON_FILES) await writeWholeBytes(path(name), await make(name))
  })
  const said = report.sentences.map(({ text }) => text)
  const lines =
    said.length > 0 ? said : [report.note ?? `Nothing stands out in ${season.dog}’s ${season.rides.length} rides.`]
  return { exitCode: exitCodes.measured, lines: [...lines, path('dog.html')], complaint: null }
}
