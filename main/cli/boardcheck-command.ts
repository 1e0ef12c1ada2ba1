import { checkBoard } from '../../analysis/board-physics/board-check.ts'
import type { DropRecord } from '../../analysis/board-physics/drop-curve.ts'
import { ruleSetOf } from '../../analysis/rules/rule-sets.ts'
import { readBoardFile, readCounterweights } from '../files/board-file.ts'
import { readDroptestFile } from '../files/droptest-file.ts'
import { jsonText } from '../files/json-file.ts'
import { prepareOutputFolder } from '../files/output-folder.ts'
import { boardcheckFiles } from '../files/result-files.ts'
import { writeWholeBytes, writeWholeText } from '../files/whole-file.ts'
import { programVersion } from '../program-version.ts'
import { type BoardcheckCommand, type CommandEnd, exitCodes } from './command.ts'
import { wrongUsage } from './command-end.ts'
import type { BoardCheckFile } from '../files/boardcheck-file.ts'
import { boardAnswers } from '../report/board-answers.ts'
import { boardPage } from '../report/board-page.tsx'
import { pageHtml } from '../report/page-html.tsx'
import { pagePdf } from '../report/page-pdf.ts'

/** Checks a board by its drop-test files against a rule set and writes the numbers and the board's page. */
export async function boardcheckCommand(command: BoardcheckCommand): Promise<CommandEnd> {
  const rules = ruleSetOf(command.rules)
  if (rules === null || rules.drop === null) return wrongUsage(`--rules ${command.rules} prescribes no drop test`)
  const board = await readBoardFile(command.boardPath)
  if (!board.ok) return wrongUsage(board.message)
  const counterweights = await readCounterweights(command.boardPath)
  if (!counterweights.ok) return wrongUsage(counterweights.message)
  const drops: DropRecord[] = []
  for (const path of command.droptestPaths) {
    const file = await readDroptestFile(path, board.value)
    if (!file.ok) return wrongUsage(file.message)
    drops.push(...file.value)
  }
  const folder = await prepareOutputFolder(command.outDir)
  if (!folder.ok) return wrongUsage(folder.message)
  const plankKg = command.plankKg ?? null
  const check = checkBoard({
    drops,
    board: board.value,
    plankKg,
    rules: { ...rules, drop: rules.drop },
    counterweights: counterweights.value,
  })
  const file: BoardCheckFile = {
    schema: 'tiphold.boardcheck/1',
    program: { version: programVersion },
    rules: { key: rules.key, name: rules.name, source: rules.drop.source },
    drops: drops.map(({ massKg, massAtM, moved }) => ({ massKg, massAtM, moved })),
    plankKg: plankKg ?? board.value.massKg ?? null,
    ...check,
  }
  const paths = boardcheckFiles(folder.value)
  const page = boardPage(file, board.value)
  await writeWholeText(paths.json, jsonText(file))
  await writeWholeText(paths.html, pageHtml(page))
  await writeWholeBytes(paths.pdf, await pagePdf(page))
  const lines = [...boardAnswers(file, board.value), paths.html, paths.pdf]
  return { exitCode: exitCodes.measured, lines, complaint: null }
}
