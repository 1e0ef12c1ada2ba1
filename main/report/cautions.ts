import { RIDE_CAUTIONS } from '../../analysis/words/ride-cautions.ts'
import { type Markup, markup } from './markup.ts'

const forDrops = [
  'Your rule book and the judge decide whether a board may be used. Boards that drop too fast or bang too hard are for no dog.',
  'Keep hands, feet and dogs out from under the board; set the weight down gently and take the hand away upwards.',
  'A base that rocks or slides makes the board unsafe and these numbers wrong: peg it down or weigh it down.',
]

/** What to keep in mind, short and once. */
export function cautions(about: 'ride' | 'drop'): Markup {
  const sentences = about === 'ride' ? RIDE_CAUTIONS : forDrops
  return markup`<section class="cautions"><h2>Keep in mind</h2><ul>${sentences.map((sentence) => markup`<li>${sentence}</li>`)}</ul></section>`
}
