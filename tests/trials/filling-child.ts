/**
 * Puts dogs into the library of a folder, each a card of its own, whether or not there is room: says `kept N` for each
 * that is acknowledged and `refused N` for each that is not, until it is killed.
 */
import { setTimeout } from 'node:timers/promises'
import { openLibrary } from '../../main/library/open-library.ts'
import { juno } from '../main/library/things.ts'

const [folder, first] = process.argv.slice(2)
const library = await openLibrary(folder!)
for (let n = Number(first); ; n++) {
  const isKept = await library.dogs.put({ ...juno, id: `dog-${n}`, note: 'x'.repeat(1500) }).then(
    () => true,
    () => false,
  )
  process.stdout.write(`${isKept ? 'kept' : 'refused'} ${n}\n`)
  // Whoever frees the disk gets a turn.
  if (!isKept) await setTimeout(5)
}
