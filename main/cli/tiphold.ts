import { measureClip } from '../measuring/measure-clip.ts'
import { measureDrops } from '../measuring/measure-drops.ts'
import { programVersion } from '../program-version.ts'
import { addCommand } from './add-command.ts'
import { backupCommand, restoreCommand } from './backup-commands.ts'
import { boardcheckCommand } from './boardcheck-command.ts'
import { Cancelled, cancelledByUser } from './cancelling.ts'
import { type CommandEnd, exitCodes } from './command.ts'
import { doctor } from './doctor.ts'
import { droptestCommand } from './droptest-command.ts'
import { OutputProblem } from '../files/output-folder.ts'
import { findMarks } from '../services/finding-marks.ts'
import { ClipProblem } from '../film/media/clip-problem.ts'
import { failed, wrongUsage } from './command-end.ts'
import { harmless, harmlessLine } from './harmless-text.ts'
import { helpText } from './help-text.ts'
import { measureCommand } from './measure-command.ts'
import { ProgressLine } from './progress-line.ts'
import { readCommand } from './read-command.ts'
import { reportCommand } from './report-command.ts'
import { showcheckCommand } from './showcheck-command.ts'

const end = await run(process.argv.slice(2))
for (const line of end.lines) console.log(harmless(line))
if (end.complaint !== null) console.error(harmlessLine(end.complaint))
process.exit(end.exitCode)

async function run(args: readonly string[]): Promise<CommandEnd> {
  const read = readCommand(args)
  if (!read.ok) return { exitCode: exitCodes.wrongUsage, lines: [], complaint: read.message }
  const command = read.value
  const progress = new ProgressLine(process.stderr, 'progress' in command && command.progress)
  const tools = {
    measureClip,
    measureDrops,
    findMarks,
    signal: cancelledByUser(),
    onProgress: progress.update,
    remark: (line: string) => {
      progress.clear()
      console.error(harmlessLine(line))
    },
  }
  try {
    switch (command.kind) {
      case 'help':
        return plain(helpText)
      case 'version':
        return plain(programVersion)
      case 'doctor':
        return plain((await doctor()).text)
      case 'measure':
        return await measureCommand(command, tools)
      case 'droptest':
        return await droptestCommand(command, tools)
      case 'add':
        return await addCommand(command, tools)
      case 'backup':
        return await backupCommand(command)
      case 'restore':
        return await restoreCommand(command)
      case 'report':
        return await reportCommand(command)
      case 'showcheck':
        return await showcheckCommand(command)
      case 'boardcheck':
        return await boardcheckCommand(command)
    }
  } catch (error) {
    if (error instanceof Cancelled || tools.signal.aborted) {
      return { exitCode: exitCodes.cancelled, lines: [], complaint: 'Cancelled; no file is half-written.' }
    }
    if (error instanceof OutputProblem) return wrongUsage(error.message)
    if (error instanceof ClipProblem) return failed({ kind: 'unreadable', detail: error.message }, '')
    throw error
  } finally {
    progress.clear()
  }
}

function plain(text: string): CommandEnd {
  return { exitCode: exitCodes.measured, lines: [text], complaint: null }
}
