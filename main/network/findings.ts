import type { Finding, PictureBox } from './animal-finder.ts'

/** One line of the network's answer, its box already in px of the picture. */
export interface Detection {
  readonly classIndex: number
  readonly score: number
  readonly box: PictureBox
}

/** Below this the network guesses. Callers choose their own limit above it. */
const LEAST_SCORE = 0.1

/** Two boxes that share more than this of their joint area are taken for one thing. */
const SAME_THING = 0.5

const PERSON = 0
const DOG = 16

/** The network's classes (COCO, counted from 0) that a dog is taken for. */
const FOUR_LEGGED: ReadonlyMap<number, string> = new Map([
  [15, 'cat'],
  [DOG, 'dog'],
  [17, 'horse'],
  [18, 'sheep'],
  [19, 'cow'],
  [21, 'bear'],
])

/** The people and four-legged animals among the detections, each once, the surest first. */
export function findingsFrom(detections: readonly Detection[]): Finding[] {
  const sure = detections.filter(({ score }) => score >= LEAST_SCORE).sort((a, b) => b.score - a.score)
  const people = groups(sure.filter(({ classIndex }) => classIndex === PERSON)).map(personFrom)
  const animals = groups(sure.filter(({ classIndex }) => FOUR_LEGGED.has(classIndex))).map(animalFrom)
  return [...people, ...animals].sort((a, b) => b.score - a.score)
}

interface Group {
  readonly best: Detection
  readonly all: Detection[]
}

/** Each detection joins the first surer one that it overlaps. */
function groups(sorted: readonly Detection[]): Group[] {
  const found: Group[] = []
  for (const detection of sorted) {
    const home = found.find(({ best }) => overlap(best.box, detection.box) > SAME_THING)
    if (home === undefined) found.push({ best: detection, all: [detection] })
    else home.all.push(detection)
  }
  return found
}

function personFrom({ best }: Group): Finding {
  return { what: 'person', label: 'person', score: best.score, dogScore: 0, box: best.box }
}

function animalFrom({ best, all }: Group): Finding {
  const dog = all.find(({ classIndex }) => classIndex === DOG)
  const label = FOUR_LEGGED.get(best.classIndex) ?? 'animal'
  return {
    what: label === 'dog' ? 'dog' : 'animal',
    label,
    score: best.score,
    dogScore: dog?.score ?? 0,
    box: best.box,
  }
}

/** Shared area over joint area, 0-1. */
export function overlap(a: PictureBox, b: PictureBox): number {
  const widthPx = Math.min(a.x1Px, b.x1Px) - Math.max(a.x0Px, b.x0Px)
  const heightPx = Math.min(a.y1Px, b.y1Px) - Math.max(a.y0Px, b.y0Px)
  if (widthPx <= 0 || heightPx <= 0) return 0
  const shared = widthPx * heightPx
  return shared / (area(a) + area(b) - shared)
}

function area(box: PictureBox): number {
  return (box.x1Px - box.x0Px) * (box.y1Px - box.y0Px)
}
