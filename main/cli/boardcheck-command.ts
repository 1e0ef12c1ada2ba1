import type { DropRecord } from '../../analysis/board-physics/drop-curve.ts'
import { readBoardFile, readCounterweights } from '../files/board-file.ts'
import { readDroptestFile } from '../files/droptest-file.ts'
import { jsonText } from '../files/json-file.ts'
import { prepareOutputFolder } from '../files/output-folder.ts'
import { boardcheckFiles } from '../files/result-files.ts'
import { writeWholeBytes, writeWholeText } from '../files/whole-file.ts'
import { type BoardcheckCommand, type CommandEnd, exitCodes } from './command.ts'
import { askedRules } from './asked-rules.ts'
import { wrongUsage } from './command-end.ts'
import { boardAnswers } from '../../analysis/board-physics/board-words.ts'
import { boardCheckFile } from '../outputs/report/board-check.ts'
import { boardPage } from '../outputs/report/board-page.tsx'
import { pageHtml } from '../outputs/report/page-html.tsx'
import { pagePdf } from '../outputs/report/page-pdf.ts'

/** Checks a board by its drop-test files against a rule set and writes the numbers and the board's page. */
export async function boardcheckCommand(command: BoardcheckCommand): Promise<CommandEnd> {
  const board = await readBoardFile(command.boardPath)
  if (!board.ok) return wrongUsage(board.message)
  const counterweights = await readCounterweights(command.boardPath, board.value)
  if (!counterweights.ok) return wrongUsage(counterweights.message)
  const rules = await askedRules(command.rules, command.libraryFolder)
  if (!rules.ok) return wrongUsage(rules.message)
  const drops: DropRecord[] = []
  for (const path of command.droptestPaths) {
    const file = await readDroptestFile(path, board.value)
    if (!file.ok) return wrongUsage(file.message)
    drops.push(...file.value)
  }
  const order = { drops, board: board.value, plankKg: command.plankKg ?? null, counterweights: counterweights.value }
  const file = boardCheckFile(rules.value, order)
  if (file === null) return wrongUsage(`--rules ${command.rules} (${rules.value.name}): prescribes no drop test`)
  const folder = await prepareOutputFolder(command.outDir)
  if (!folder.ok) return wrongUsage(folder.message)
  const paths = boardcheckFiles(folder.value)
  const page = boardPage(file, board.value)
  await writeWholeText(paths.json, jsonText(file))
  await writeWholeText(paths.html, pageHtml(page))
  await writeWholeBytes(paths.pdf, await pagePdf(page))
  const lines = [...boardAnswers(file, board.value), paths.html, paths.pdf]
  return { exitCode: exitCodes.measured, lines, complaint: null }
}
