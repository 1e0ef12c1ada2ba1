import { reportOf } from '../../../analysis/progress/dog-report.ts'
import { materialsIn } from '../../../analysis/progress/board-materials.ts'
import { splitsOf } from '../../../analysis/progress/split.ts'
import type { DogReport } from '../../../analysis/progress/report-parts.ts'
import { jsonText } from '../../files/json-file.ts'
import { dogPage } from '../report/dog-page.tsx'
import { pageHtml } from '../report/page-html.tsx'
import { pagePdf } from '../report/page-pdf.ts'
import { aboutBoard } from './about-board.ts'
import { dogFile } from './dog-file.ts'
import { inventedRemark } from './invented-remark.ts'
import { ridesCsv } from './rides-csv.ts'
import type { DogOfRides } from './rides-file.ts'
import { saidOfRides } from './said-of-rides.ts'

/** The files that a dog's season is written to, in the order in which they are written. */
export const SEASON_FILES = ['dog.json', 'rides.json', 'rides.csv', 'dog.html', 'dog.pdf'] as const
export type SeasonFile = (typeof SEASON_FILES)[number]

/** Makes the files of one season; all of them tell the same numbers. */
export interface SeasonFiles {
  readonly report: DogReport
  make(file: SeasonFile): Promise<Uint8Array>
}

export function seasonFiles(dog: DogOfRides): SeasonFiles {
  const { season, file: rides } = dog
  const report = reportOf(season)
  const said = saidOfRides(dog)
  const about = aboutBoard(rides.boards ?? [])
  const splits = splitsOf(season, about)
  const materials = materialsIn(splits, (board) => about(board).material)
  const page = dogPage(report, season, { remarks: inventedRemark(dog), said, splits, materials })
  const text = (content: string) => Promise.resolve(new TextEncoder().encode(content))
  return {
    report,
    make(file) {
      switch (file) {
        case 'dog.json':
          return text(jsonText(dogFile(report, said, splits, materials)))
        case 'rides.json':
          return text(jsonText(rides))
        case 'rides.csv':
          return text(ridesCsv(season.rides, (board) => rides.boards?.find(({ name }) => name === board)?.feelS))
        case 'dog.html':
          return text(pageHtml(page))
        case 'dog.pdf':
          return pagePdf(page)
      }
    },
  }
}
