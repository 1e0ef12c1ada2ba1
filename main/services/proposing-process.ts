import type { FoundPlank } from '../../analysis/finding/find-plank.ts'
import type { MarksProposal, MarksSearch, NoPlank } from '../../analysis/finding/marks-offer.ts'
import { chooseFfmpeg } from '../film/engines/ffmpeg-choice.ts'
import { probeClip } from '../film/media/probe-clip.ts'
import { isWhole, markedTravel, travelOf } from '../../analysis/marking/marks-draft.ts'
import { carriedProposal, restFrames } from './proposing-carried.ts'
import { foundProposal, roughlyFound } from './proposing-found.ts'
import type { FromProposing, ToProposing } from './proposing-messages.ts'
import type { OpenClip } from './close-look.ts'
import { openWorkerPort } from './worker-port.ts'

/** The program of the proposing process: it looks at one clip, answers once, and is then ended. */
const port = openWorkerPort()

port.onMessage((message) => {
  void answer(message as ToProposing)
})

async function answer(told: ToProposing): Promise<void> {
  let reply: FromProposing
  try {
    reply = { kind: 'proposed', search: await propose(told) }
  } catch (error) {
    console.error(error)
    reply = { kind: 'failed', message: 'The search for the plank failed: mark it by hand.' }
  }
  port.post(reply)
}

/**
 * Marks carried over come first: the eye of a person was on them, and they are quick to find. Where all are there, no
 * others are looked for.
 */
async function propose({ clip, known }: ToProposing): Promise<MarksSearch> {
  const open = await opened(clip.path)
  const quick = await firstCarried(open, { clip, known }, null)
  if (quick !== null && isWhole(quick.marks)) return searchOf([quick])
  const found = await roughlyFound(open, clip)
  const sameWay = found === null || clip.travel === null || travelOf(found.rest) === clip.travel
  const carried = found === null || !sameWay ? quick : ((await firstCarried(open, { clip, known }, found)) ?? quick)
  if (carried !== null && isWhole(carried.marks)) return searchOf([carried])
  const own = await foundProposal(open, clip, found)
  const offers = [carried, typeof own === 'string' ? null : own].filter((one) => one !== null)
  return searchOf(offers, typeof own === 'string' ? own : null, found)
}

function searchOf(
  offers: readonly MarksProposal[],
  noneBecause: NoPlank | null = null,
  found: FoundPlank | null = null,
): MarksSearch {
  const [first] = offers
  const seen = found === null ? null : travelOf(found.rest)
  return {
    offers,
    noneBecause: first === undefined ? noneBecause : null,
    travel: (first === undefined ? null : markedTravel(first.marks)) ?? seen,
  }
}

async function firstCarried(
  open: OpenClip,
  { clip, known }: ToProposing,
  found: FoundPlank | null,
): Promise<MarksProposal | null> {
  const resting = known.length === 0 ? [] : await restFrames(open, clip)
  for (const one of known) {
    const carried = await carriedProposal(open, clip, one, await opened(one.path), resting, found)
    if (carried !== null) return carried
  }
  return null
}

async function opened(path: string): Promise<OpenClip> {
  const ffmpeg = await chooseFfmpeg()
  return { clip: await probeClip(path, ffmpeg), ffmpeg }
}
