import { join } from 'node:path'
import {
  checkShow,
  FINE_BELOW,
  RISK_ABOVE,
  type ShowCheck,
  type ShowQuestion,
} from '../../analysis/progress/show-check.ts'
import { showAnswer } from '../../analysis/progress/show-words.ts'
import { type CommandEnd, exitCodes, type ShowcheckCommand } from './command.ts'
import { askedRules } from './asked-rules.ts'
import { wrongUsage } from './command-end.ts'
import { jsonText } from '../files/json-file.ts'
import { prepareOutputFolder } from '../files/output-folder.ts'
import { writeWholeText } from '../files/whole-file.ts'
import { programVersion } from '../program-version.ts'
import { dogOfRides } from '../outputs/progress/rides-file.ts'
import { readRides } from '../outputs/progress/rides-source.ts'
import { showQuestion } from '../outputs/progress/show-question.ts'

/** Says how likely a dog leaves early or misses the down contact on a board at a show. */
export async function showcheckCommand(command: ShowcheckCommand): Promise<CommandEnd> {
  const rules = await askedRules(command.rules, command.libraryFolder)
  if (!rules.ok) return wrongUsage(rules.message)
  const rides = await readRides(command)
  if (!rides.ok) return wrongUsage(rides.message)
  const dog = dogOfRides(rides.value, command.dog)
  if (!dog.ok) return wrongUsage(dog.message)
  const question = showQuestion({ ...command, rules: rules.value }, rides.value, dog.value)
  if (!question.ok) return wrongUsage(question.message)
  const folder = await prepareOutputFolder(command.outDir)
  if (!folder.ok) return wrongUsage(folder.message)
  const check = checkShow(dog.value.season.rides, question.value)
  const path = join(folder.value, 'showcheck.json')
  const file = showcheckFile(dog.value.season.dog, check, question.value)
  await writeWholeText(path, jsonText(file))
  return { exitCode: exitCodes.measured, lines: [...file.sentences, ...file.cautions, path], complaint: null }
}

/** A show check as `showcheck.json` holds it; its schema is `main/files/showcheck.schema.json`. */
function showcheckFile(dog: string, check: ShowCheck, question: ShowQuestion) {
  const { board, fallS, rules } = question
  const { earlyChance, missedDownChance, restsOn, verdict, biggestLever, rideIndices } = check
  return {
    schema: 'tiphold.showcheck/1',
    program: { version: programVersion },
    dog,
    board,
    dropTimeS: fallS,
    rules: rules.key,
    earlyChance,
    missedDownChance,
    restsOn: { ...restsOn, rideIndices },
    verdict,
    limits: { fineBelow: FINE_BELOW, riskAbove: RISK_ABOVE },
    biggestLever,
    ...showAnswer(dog, check, question),
  } as const
}
