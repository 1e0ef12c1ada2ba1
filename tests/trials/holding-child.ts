/** Opens the library of a folder, says `open` or `refused`, writes a dog of its own if it may, and holds on until told to end. */
import { LibraryProblem } from '../../main/library/library-problem.ts'
import { openLibrary } from '../../main/library/open-library.ts'
import { juno } from '../main/library/things.ts'

const [folder, name] = process.argv.slice(2)
try {
  const library = await openLibrary(folder!)
  process.stdout.write('open\n')
  await library.dogs.put({ ...juno, id: name! })
  process.stdout.write('kept\n')
  await new Promise((resolve) => process.stdin.once('data', resolve))
  await library.close()
  process.stdout.write('closed\n')
} catch (error) {
  if (!(error instanceof LibraryProblem)) throw error
  process.stdout.write('refused\n')
}
process.exit(0)
