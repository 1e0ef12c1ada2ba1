/** What to keep in mind when reading a ride: short, and once. */
export const RIDE_CAUTIONS: readonly string[] = [
  'The judge and your rule book decide. These are measurements of one clip, not a ruling.',
  'A dog that hesitates, crouches or jumps off may be frightened: stop, and go back to a board that a person lets down gently.',
  'Young dogs: ask your vet when to begin. In a survey of 4,197 agility dogs, injuries were most frequent in dogs that began jumps at 3 to 18 months but weaves and seesaw after 18 months; that does not make an early start safe.',
  'A base that rocks or slides makes the board unsafe and these numbers wrong: peg it down or weigh it down.',
]
