import { type Markup, markup } from './markup.ts'

const forRides = [
  'The judge and your rule book decide. These are measurements of one clip, not a ruling.',
  'A dog that hesitates, crouches or jumps off may be frightened: stop, and go back to a board that a person lets down gently.',
  'Young dogs: ask your vet before you begin. In a study of 4,197 agility dogs, the age at which training on the seesaw began went with the risk of injury.',
  'A base that rocks or slides makes the board unsafe and these numbers wrong: peg it down or weigh it down.',
]

const forDrops = [
  'Your rule book and the judge decide whether a board may be used. Boards that drop too fast or bang too hard are for no dog.',
  'Keep hands, feet and dogs out from under the board; set the weight down gently and take the hand away upwards.',
  'A base that rocks or slides makes the board unsafe and these numbers wrong: peg it down or weigh it down.',
]

/** What to keep in mind, short and once. */
export function cautions(about: 'ride' | 'drop'): Markup {
  const sentences = about === 'ride' ? forRides : forDrops
  return markup`<section class="cautions"><h2>Keep in mind</h2><ul>${sentences.map((sentence) => markup`<li>${sentence}</li>`)}</ul></section>`
}
