/**
 * Writes to the library of a folder until it is killed: changes dogs, puts rides, corrects and removes them. After each
 * change it says what was promised, a line each: `dog N` means that the dog's note says N, `ride N` that ride N is
 * there, `corrected N`, `removed N`, and `index` that the library was closed and opened.
 */
import { openLibrary } from '../../main/library/open-library.ts'
import { juno, meadowClip, meadowRide } from '../main/library/things.ts'

const [folder, first] = process.argv.slice(2)
let library = await openLibrary(folder!)
for (let n = Number(first); ; n++) {
  await library.dogs.put({ ...juno, note: String(n) })
  say('dog', n)
  await library.clips.put({ ...meadowClip, id: `clip-${n}` })
  await library.rides.put({ ...meadowRide, id: `ride-${n}`, clipId: `clip-${n}` })
  say('ride', n)
  await library.rides.change(`ride-${n}`, {
    corrections: { ...meadowRide.corrections, events: { left: { kind: 'at', atS: 4.5 } } },
  })
  say('corrected', n)
  if (n % 3 === 0) {
    await library.rides.remove(`ride-${n}`)
    say('removed', n)
  }
  if (n % 5 === 0) {
    await library.close()
    library = await openLibrary(folder!)
    say('index', n)
  }
}

function say(what: string, n: number): void {
  process.stdout.write(`${what} ${n}\n`)
}
