import { readFileSync } from 'node:fs'
import { Ajv } from 'ajv'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { hasRoomForVoice } from '../../../../analysis/review/voice-room.ts'
import { PackProblem } from '../../../../main/outputs/review/pack-files.ts'
import { itemsOnDisk, mergedItems, replyIn, takenOver } from '../../../../main/outputs/review/review-file.ts'
import { soundFiles, soundInfo } from './hostile-packs.ts'

function validatorFor(name: string) {
  const schema = JSON.parse(readFileSync(new URL(`../../../../main/files/${name}`, import.meta.url), 'utf8')) as object
  return new Ajv({ strict: false }).compile(schema)
}

const author = { id: 'b'.repeat(16), name: 'Cora' }
const head = { id: `${author.id}.${'0'.repeat(12)}`, author, version: 1, madeAt: '', isRemoved: false }
const comment = { ...head, kind: 'comment', atS: 1, toS: null, text: 'hold', strokes: [] }
const reply = (...items: unknown[]) => ({ format: 'tiphold.review-reply/1', packId: 'p', rideId: 'r', items })

const point = fc.record({ xShare: fc.double({ min: -1, max: 2, noNaN: true }), yShare: fc.constant(0.5) })
const anyItem = fc.record(
  {
    id: fc.constant(head.id),
    author: fc.constant(author),
    version: fc.constant(1),
    madeAt: fc.constant(''),
    isRemoved: fc.constant(false),
    kind: fc.constantFrom('comment', 'question', 'suggestion', 'answer', 'gesture'),
    atS: fc.oneof(fc.constant(null), fc.double({ min: -1, max: 10, noNaN: true })),
    toS: fc.constantFrom(null, 2),
    text: fc.oneof(fc.string({ maxLength: 5 }), fc.constant(7)),
    strokes: fc.array(
      fc.record({ shape: fc.constantFrom('line', 'spiral'), points: fc.array(point, { maxLength: 2 }) }),
      {
        maxLength: 2,
      },
    ),
    voice: fc.record({
      durationS: fc.constantFrom(12, 60, 60.1, 0),
      sound: fc.oneof(
        fc.constantFrom('GkXfow==', 'T2dnUw==', 'AAAAHGZ0eXBpc29t', 'iVBORw0KGgo=', '<b>', ''),
        fc.uint8Array({ minLength: 4, maxLength: 12 }).map((bytes) => Buffer.from(bytes).toString('base64')),
      ),
    }),
    event: fc.constantFrom('left', 'lunch'),
    to: fc.constantFrom({ kind: 'at', atS: 1 }, { kind: 'at' }, { kind: 'did-not-happen' }),
    about: fc.constant(head.id),
    verdict: fc.constantFrom('accepted', 'perhaps'),
  },
  { requiredKeys: ['id', 'author', 'version', 'madeAt', 'isRemoved', 'kind'] },
)

function isOpened(value: unknown): boolean {
  try {
    replyIn(JSON.stringify(value))
    return true
  } catch (error) {
    if (error instanceof PackProblem) return false
    throw error
  }
}

test('the program opens just those replies that the published schema allows', () => {
  const isValid = validatorFor('review-reply.schema.json')
  fc.assert(
    fc.property(anyItem, (item) => {
      expect(isOpened(reply(item))).toBe(isValid(JSON.parse(JSON.stringify(reply(item)))))
    }),
    { numRuns: 1200 },
  )
})

test('a pack that the program writes is one of the published schema', () => {
  expect(validatorFor('review-pack.schema.json')(soundInfo(soundFiles()))).toBe(true)
})

test('fields and kinds of a newer program come through as they came', () => {
  const gesture = { ...head, kind: 'gesture', hands: 2 }
  const coloured = { ...comment, id: `${author.id}.${'1'.repeat(12)}`, colour: 'red' }
  const { items } = replyIn(JSON.stringify(reply(gesture, coloured)))
  expect(itemsOnDisk(items)).toEqual([gesture, coloured])
})

const webm = (bytes: number) => Buffer.concat([Buffer.from('1a45dfa3', 'hex'), Buffer.alloc(bytes)]).toString('base64')
const spoken = (voice: object, k = 0) => ({ ...comment, id: `${author.id}.${String(k).padStart(12, '0')}`, voice })

describe('a spoken comment', () => {
  test('without text comes through as it came', () => {
    const silent = { ...spoken({ durationS: 12, sound: webm(1000) }), text: '' }
    expect(itemsOnDisk(replyIn(JSON.stringify(reply(silent))).items)).toEqual([silent])
  })

  test('of the largest size is opened in time', () => {
    const sound = webm(674_996)
    expect(sound.length).toBe(900_000)
    const largest = spoken({ durationS: 60, sound })
    expect(replyIn(JSON.stringify(reply(largest))).items).toHaveLength(1)
    expect(validatorFor('review-reply.schema.json')(reply(largest))).toBe(true)
  })

  test.each([
    ['longer than a minute', { durationS: 61, sound: webm(10) }, 'A recording in this reply is longer than 60 s'],
    ['larger than 0.9 MB', { durationS: 60, sound: webm(675_000) }, 'A recording in this reply is too large'],
    ['a picture', { durationS: 2, sound: 'iVBORw0KGgoAAAAN' }, 'A recording in this reply cannot be played here'],
    ['an address', { durationS: 2, sound: 'https://a.example/a.webm' }, 'cannot be played here: ask for it once more'],
    ['no sound at all', {}, 'A recording in this reply cannot be played here'],
  ])('that is %s is told in a sentence', (_what, voice, words) => {
    expect(() => replyIn(JSON.stringify(reply(spoken(voice))))).toThrow(words)
  })

  test('finds room only up to 10 MB on a ride, whichever way it comes', () => {
    const twelve = Array.from({ length: 12 }, (_, k) => spoken({ durationS: 60, sound: webm(674_996) }, k))
    expect(() => replyIn(JSON.stringify(reply(...twelve)))).toThrow('more than 10 MB of recordings in this reply')
    const read = (some: readonly unknown[]) => replyIn(JSON.stringify(reply(...some))).items
    const [ours, theirs] = [read(twelve.slice(0, 8)), read(twelve.slice(8))]
    expect(() => mergedItems(ours, theirs)).toThrow('more than 10 MB of recordings on this ride')
    expect(mergedItems(ours, theirs.slice(0, 3))).toHaveLength(11)
    expect([hasRoomForVoice(ours), hasRoomForVoice(mergedItems(ours, theirs.slice(0, 3)))]).toEqual([true, false])
  })
})

test('a reply speaks neither in the handler’s name nor for her', () => {
  const answer = { ...head, id: `${author.id}.${'2'.repeat(12)}`, kind: 'answer', about: head.id, verdict: 'accepted' }
  const { items } = replyIn(JSON.stringify(reply(comment, answer)))
  expect(takenOver(items, 'c'.repeat(16))).toHaveLength(1)
  expect(takenOver(items, author.id)).toEqual([])
})

test.each([
  ['{"format":"tiphold.review-reply/2","packId":"p","rideId":"r","items":[]}', /newer Tiphold/],
  ['{"name":"a shopping list"}', /neither a review pack nor a reply/],
  ['not JSON', /neither a review pack nor a reply/],
])('%s is told in a sentence', (text, words) => {
  expect(() => replyIn(text)).toThrow(words)
})
