import type { CallName, Happening } from '../../main/contract/calls.ts'

type Changed = Extract<Happening, { kind: 'changed' }>['what']

/** What is worked out of many rides. */
const SEASONS = ['seasons.get', 'seasons.compare', 'seasons.checkShow', 'seasons.whoNeedsAttention'] as const

/** Which answers may differ after a change. Cards carry the names of dogs and boards, and rides those of their clips. */
const AFFECTED: Readonly<Record<Changed, readonly CallName[]>> = {
  dogs: [
    'dogs.list',
    'noted.get',
    'samples.season',
    ...SEASONS,
    'clips.list',
    'clips.get',
    'rides.list',
    'rides.listAll',
    'rides.get',
  ],
  boards: [
    'boards.list',
    'boards.tested',
    'boards.feels',
    ...SEASONS,
    'clips.list',
    'clips.get',
    'rides.list',
    'rides.listAll',
    'rides.get',
  ],
  clips: [
    'boards.tested',
    'boards.feels',
    'clips.list',
    'clips.get',
    'samples.list',
    'measuring.jobs',
    'rides.list',
    'rides.listAll',
    'rides.count',
    'rides.get',
    'library.place',
    'library.unreadable',
  ],
  rides: [
    'rides.list',
    'rides.listAll',
    ...SEASONS,
    'rides.count',
    'rides.tags',
    'rides.get',
    'clips.list',
    'clips.get',
    'samples.list',
    'library.place',
  ],
  noted: ['noted.get', 'rides.listAll', 'rides.tags', 'samples.season', ...SEASONS],
  packs: ['packs.list', 'packs.get'],
  bin: ['bin.list'],
  settings: ['settings.get', 'library.place', 'boards.tested'],
}

export function affectedCalls(what: Changed): ReadonlySet<string> {
  return new Set(AFFECTED[what])
}
