import { writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { reportOf } from '../../analysis/progress/dog-report.ts'
import { type CommandEnd, exitCodes, type ReportCommand } from './command.ts'
import { wrongUsage } from './command-end.ts'
import { jsonText } from '../files/json-file.ts'
import { prepareOutputFolder } from '../files/output-folder.ts'
import { writeWhole, writeWholeText } from '../files/whole-file.ts'
import { dogFile } from '../progress/dog-file.ts'
import { ridesCsv } from '../progress/rides-csv.ts'
import { dogOfRides, readRidesFile } from '../progress/rides-file.ts'
import { dogPage } from '../report/dog-page.tsx'
import { pageHtml } from '../report/page-html.tsx'
import { pagePdf } from '../report/page-pdf.ts'

/** Writes all that many rides of one dog say together. */
export async function reportCommand(command: ReportCommand): Promise<CommandEnd> {
  const rides = await readRidesFile(command.ridesPath)
  if (!rides.ok) return wrongUsage(rides.message)
  const dog = dogOfRides(rides.value, command.dog)
  if (!dog.ok) return wrongUsage(dog.message)
  const folder = await prepareOutputFolder(command.outDir)
  if (!folder.ok) return wrongUsage(folder.message)
  const { season, file } = dog.value
  const report = reportOf(season)
  const path = (name: string) => join(folder.value, name)
  await writeWholeText(path('dog.json'), jsonText(dogFile(report)))
  await writeWholeText(path('rides.json'), jsonText(file))
  await writeWholeText(path('rides.csv'), ridesCsv(season.rides))
  const page = dogPage(report, season)
  const pdf = await pagePdf(page)
  await writeWholeText(path('dog.html'), pageHtml(page))
  await writeWhole(path('dog.pdf'), (partPath) => writeFile(partPath, pdf))
  const said = report.sentences.map(({ text }) => text)
  const lines =
    said.length > 0 ? said : [report.note ?? `Nothing stands out in ${season.dog}’s ${season.rides.length} rides.`]
  return { exitCode: exitCodes.measured, lines: [...lines, path('dog.html')], complaint: null }
}
