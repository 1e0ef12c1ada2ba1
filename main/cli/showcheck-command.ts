import { join } from 'node:path'
import { fallsAndLeavings } from '../../analysis/progress/fall-and-leaving.ts'
import {
  checkShow,
  FINE_BELOW,
  RISK_ABOVE,
  type ShowCheck,
  type ShowQuestion,
} from '../../analysis/progress/show-check.ts'
import { showAnswer } from '../../analysis/progress/show-words.ts'
import { type CommandEnd, exitCodes, type ShowcheckCommand } from './command.ts'
import { wrongUsage } from './command-end.ts'
import { jsonText } from '../files/json-file.ts'
import type { Parsed } from '../files/json-object.ts'
import { prepareOutputFolder } from '../files/output-folder.ts'
import { writeWholeText } from '../files/whole-file.ts'
import { programVersion } from '../program-version.ts'
import { type DogOfRides, dogOfRides, nameLike, readRidesFile, type Rides } from '../progress/rides-file.ts'

/** Says how likely a dog leaves early or misses the down contact on a board at a show. */
export async function showcheckCommand(command: ShowcheckCommand): Promise<CommandEnd> {
  const rides = await readRidesFile(command.ridesPath)
  if (!rides.ok) return wrongUsage(rides.message)
  const dog = dogOfRides(rides.value, command.dog)
  if (!dog.ok) return wrongUsage(dog.message)
  const question = questionOf(command, rides.value, dog.value)
  if (!question.ok) return wrongUsage(question.message)
  const folder = await prepareOutputFolder(command.outDir)
  if (!folder.ok) return wrongUsage(folder.message)
  const check = checkShow(dog.value.season.rides, question.value)
  const path = join(folder.value, 'showcheck.json')
  const file = showcheckFile(dog.value.season.dog, check, question.value)
  await writeWholeText(path, jsonText(file))
  return { exitCode: exitCodes.measured, lines: [...file.sentences, ...file.cautions, path], complaint: null }
}

/** The board by its name as it is spelt; its fall, where this dog has not been on it, from other dogs' rides. */
function questionOf(command: ShowcheckCommand, rides: Rides, dog: DogOfRides): Parsed<ShowQuestion> {
  const { rules } = command
  if (command.board === undefined) return { ok: true, value: { board: null, fallS: command.dropTimeS!, rules } }
  const board = nameLike(dog.boards, command.board)
  if (board === null) {
    const known = dog.boards.length === 0 ? 'no boards' : dog.boards.slice(0, 12).join(', ')
    return { ok: false, message: `${rides.path}: has no board named "${command.board}"; it has ${known}` }
  }
  if (dog.season.rides.some((ride) => ride.board === board && !ride.byHand)) {
    return { ok: true, value: { board, fallS: null, rules } }
  }
  const others = [...new Set(rides.checked.rides.map((ride) => ride.dog))].flatMap((name) => {
    const other = dogOfRides(rides, name)
    if (!other.ok) return []
    const falls = fallsAndLeavings(other.value.season.rides)
    return falls.usualFallS[falls.boards.indexOf(board)] ?? []
  })
  const known = others.filter(Number.isFinite)
  if (known.length === 0) {
    const message = `${rides.path}: no ride tells how fast "${board}" falls; give --drop-time-s instead of --board`
    return { ok: false, message }
  }
  return { ok: true, value: { board, fallS: known.reduce((sum, fall) => sum + fall, 0) / known.length, rules } }
}

/** A show check as `showcheck.json` holds it; its schema is `main/files/showcheck.schema.json`. */
function showcheckFile(dog: string, check: ShowCheck, { board, fallS, rules }: ShowQuestion) {
  const { earlyChance, missedDownChance, restsOn, verdict, biggestLever, rideIndices } = check
  return {
    schema: 'tiphold.showcheck/1',
    program: { version: programVersion },
    dog,
    board,
    dropTimeS: fallS,
    rules,
    earlyChance,
    missedDownChance,
    restsOn: { ...restsOn, rideIndices },
    verdict,
    limits: { fineBelow: FINE_BELOW, riskAbove: RISK_ABOVE },
    biggestLever,
    ...showAnswer(dog, check, { board, fallS, rules }),
  } as const
}
