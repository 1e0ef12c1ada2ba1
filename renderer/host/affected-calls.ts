import type { CallName, Happening } from '../../main/contract/calls.ts'

type Changed = Extract<Happening, { kind: 'changed' }>['what']

/** Which answers may differ after a change. Cards carry the names of dogs and boards, and rides those of their clips. */
const AFFECTED: Readonly<Record<Changed, readonly CallName[]>> = {
  dogs: ['dogs.list', 'noted.get', 'clips.list', 'clips.get', 'rides.list', 'rides.get'],
  boards: ['boards.list', 'clips.list', 'clips.get', 'rides.list', 'rides.get'],
  clips: [
    'clips.list',
    'clips.get',
    'samples.list',
    'measuring.jobs',
    'rides.list',
    'rides.count',
    'rides.get',
    'library.place',
    'library.unreadable',
  ],
  rides: ['rides.list', 'rides.count', 'rides.get', 'clips.list', 'clips.get', 'samples.list', 'library.place'],
  noted: ['noted.get'],
  bin: ['bin.list'],
  settings: ['settings.get', 'library.place'],
}

export function affectedCalls(what: Changed): ReadonlySet<string> {
  return new Set(AFFECTED[what])
}
