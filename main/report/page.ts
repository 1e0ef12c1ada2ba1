import type { ClipInfo } from '../../analysis/clip/frame.ts'
import { fixed } from '../../analysis/words/in-words.ts'
import { Markup, markup } from './markup.ts'
import { pageStyle } from './page-style.ts'

/** A whole page that needs nothing from outside: style, drawings and pictures are in it, and no script. */
export function page(title: string, content: Markup): string {
  return markup`${new Markup('<!doctype html>')}
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>${title}</title>
<style>${new Markup(pageStyle)}</style>
</head>
<body>
<main>
${content}
</main>
</body>
</html>
`.source
}

/** What the clip is, for the foot of a page. */
export function clipFacts(clip: ClipInfo): string {
  const turned = clip.rotationDeg === 0 ? [] : [`turned by ${clip.rotationDeg}°`]
  const slowed =
    clip.slowMotionFactor === 1 ? [] : [`slowed ${fixed(clip.slowMotionFactor, 2).replace(/\.?0+$/, '')} times`]
  return [
    clip.fileName,
    `${clip.widthPx} × ${clip.heightPx}`,
    ...turned,
    `${clip.frameCount} frames in ${fixed(clip.durationS, 2)} s`,
    `filmed at ${fixed(clip.captureRateHz, 2).replace(/\.?0+$/, '')} frames a second`,
    ...slowed,
  ].join(', ')
}
