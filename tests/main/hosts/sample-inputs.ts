import type { CallName, InputOf } from '../../../main/contract/calls.ts'
import { NO_CORRECTIONS } from '../../../main/contract/rides.ts'
import { NO_SESSION } from '../../../main/contract/sessions.ts'
import { FIRST_SETTINGS } from '../../../main/contract/settings.ts'

const point = { xPx: 100, yPx: 200 }
const marks = {
  rest: { frame: 0, entryEnd: point, exitEnd: point, pivot: point, upContactEdge: null, downContactEdge: null },
  grounded: { frame: 90, entryEnd: point, exitEnd: null },
  neverLands: false,
}

/** One good input for every call. */
export const SAMPLE_INPUTS: { readonly [Name in CallName]: InputOf<Name> } = {
  'dogs.list': {},
  'dogs.keep': {
    id: null,
    dog: {
      name: 'Wren',
      withersM: 0.45,
      massKg: 14,
      bodyDay: '2026-05-14',
      bornInMonth: '2021-04',
      criterion: { position: '2o2o', holdAfterGroundS: 1 },
      note: '',
    },
  },
  'dogs.remove': { id: 'dog-1' },
  'boards.list': {},
  'boards.keep': {
    id: 'board-1',
    board: {
      name: 'Club aluminium',
      shape: { lengthM: 3.66, widthM: 0.3, pivotHeightM: 0.6, contactM: 0.9 },
      note: '',
    },
  },
  'boards.remove': { id: 'board-1' },
  'clips.list': {},
  'clips.get': { clipId: 'clip-1' },
  'clips.takeIn': { fileId: 'file-1' },
  'clips.findAgain': { clipId: 'clip-1', fileId: 'file-1' },
  'clips.setUp': {
    clipId: 'clip-1',
    setup: {
      stretch: { fromFrame: 10, toFrame: 200 },
      travel: 'to-right',
      slowMotion: null,
      dogId: 'dog-1',
      boardId: null,
      title: 'second run, windy',
    },
  },
  'clips.mark': { clipId: 'clip-1', marks },
  'clips.proposeMarks': { clipId: 'clip-1' },
  'clips.preparePictures': { clipId: 'clip-1' },
  'clips.remove': { clipId: 'clip-1' },
  'samples.list': {},
  'samples.takeIn': { name: 'ride-01' },
  'samples.season': {},
  'samples.takeInSeason': {},
  'measuring.start': { clipId: 'clip-1' },
  'measuring.stop': { jobId: 'job-1' },
  'measuring.jobs': {},
  'rides.list': {
    words: 'wren',
    dogId: null,
    boardId: null,
    leaving: null,
    sortBy: 'newest',
    offset: 0,
    limit: 50,
  },
  'rides.count': {},
  'rides.get': { rideId: 'ride-1' },
  'rides.correct': { rideId: 'ride-1', corrections: NO_CORRECTIONS },
  'rides.describe': { rideId: 'ride-1', title: 'second run', note: '', dogId: null },
  'rides.remove': { rideId: 'ride-1' },
  'rides.setSession': { rideIds: ['ride-1'], change: { day: '2026-05-14', purpose: 'show', addTags: ['wet'] } },
  'noted.get': { id: 'noted-1' },
  'noted.keep': { id: null, ride: { dogId: 'dog-1', boardId: null, session: NO_SESSION, leftEarly: 'yes', note: '' } },
  'noted.remove': { id: 'noted-1' },
  'seasons.get': { dogId: 'dog-1' },
  'seasons.checkShow': { dogId: 'dog-1', rules: 'uk', board: { dropTimeS: 0.7 } },
  'seasons.save': { dogId: 'dog-1', format: 'pdf' },
  'seasons.whoNeedsAttention': {},
  'bin.list': {},
  'bin.putBack': { removedId: 'removed-1' },
  'bin.empty': {},
  'settings.get': {},
  'settings.keep': FIRST_SETTINGS,
  'engines.report': {},
  'library.unreadable': {},
  'library.place': {},
  'library.backUp': { path: '/somewhere/library.zip' },
  'library.move': { folder: '/somewhere/else' },
  'library.emptyPictures': {},
}
