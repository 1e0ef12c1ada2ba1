/** A label on a line of labels: where it points to and how wide it is. */
export interface Label {
  readonly xPx: number
  readonly labelWidthPx: number
}

const GAP_PX = 4

/**
 * Moves labels apart until none covers another, each as little as the order allows.
 *
 * @param labels in any order
 * @returns from left to right, each with the middle of its label, `labelPx`
 */
export function spreadLabels<L extends Label>(labels: readonly L[]): readonly (L & { readonly labelPx: number })[] {
  const groups: { labels: L[]; widthPx: number; middlePx: number }[] = []
  for (const label of [...labels].sort((a, b) => a.xPx - b.xPx)) {
    let group = { labels: [label], widthPx: label.labelWidthPx, middlePx: label.xPx }
    for (let before = groups.at(-1); before !== undefined && touches(before, group); before = groups.at(-1)) {
      groups.pop()
      const members = [...before.labels, ...group.labels]
      const widthPx = before.widthPx + GAP_PX + group.widthPx
      group = { labels: members, widthPx, middlePx: members.reduce((sum, { xPx }) => sum + xPx, 0) / members.length }
    }
    groups.push(group)
  }
  return groups.flatMap(({ labels: members, widthPx, middlePx }) => {
    let leftPx = middlePx - widthPx / 2
    return members.map((label) => {
      const labelPx = leftPx + label.labelWidthPx / 2
      leftPx += label.labelWidthPx + GAP_PX
      return { ...label, labelPx }
    })
  })
}

interface Extent {
  readonly widthPx: number
  readonly middlePx: number
}

function touches(left: Extent, right: Extent): boolean {
  return left.middlePx + left.widthPx / 2 + GAP_PX > right.middlePx - right.widthPx / 2
}
