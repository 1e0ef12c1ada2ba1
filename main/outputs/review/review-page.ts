import { createHash } from 'node:crypto'
import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { PackDetail } from '../../contract/review.ts'

/** What the page shows: the pack, and the pictures of its film. */
export interface ReviewPageData {
  readonly detail: PackDetail
  /** JPEG files as base64, by frame of the film; frames without one are stepped over. */
  readonly frames: readonly { readonly frame: number; readonly jpeg: string }[]
}

/**
 * The page that lies in a pack: one file that any browser opens without a network. It may run the one script that was
 * built with the program and load nothing; what others wrote stands in it as JSON, which is never run.
 *
 * @param pageFolder where the built script and style lie
 */
export async function reviewPage(pageFolder: string, data: ReviewPageData): Promise<string> {
  const script = (await readFile(join(pageFolder, 'review-page.js'), 'utf8'))
    .replaceAll('</script', '<\\/script')
    .replaceAll('<!--', '<\\!--')
  const style = (await readFile(join(pageFolder, 'review-page.css'), 'utf8')).replaceAll('</style', '<\\/style')
  const policy = [
    "default-src 'none'",
    `script-src '${hashOf(script)}'`,
    `style-src '${hashOf(style)}'`,
    'img-src blob: data:',
    'media-src blob:',
    'font-src data:',
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ')
  return [
    '<!doctype html>',
    '<html lang="en">',
    '<head>',
    '<meta charset="utf-8">',
    `<meta http-equiv="Content-Security-Policy" content="${policy}">`,
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    '<meta name="referrer" content="no-referrer">',
    '<title>A ride to look at, Tiphold</title>',
    `<style>${style}</style>`,
    '</head>',
    '<body>',
    '<div id="tiphold"><noscript>This page needs JavaScript to show the film.</noscript></div>',
    `<script type="application/json" id="review-data">${dataText(data)}</script>`,
    `<script>${script}</script>`,
    '</body>',
    '</html>',
    '',
  ].join('\n')
}

/** JSON in which no sign can end the element that it stands in, or begin another. */
function dataText(data: ReviewPageData): string {
  return JSON.stringify(data)
    .replaceAll('<', '\\u003c')
    .replaceAll('>', '\\u003e')
    .replaceAll('&', '\\u0026')
    .replaceAll('\u2028', '\\u2028')
    .replaceAll('\u2029', '\\u2029')
}

function hashOf(text: string): string {
  return `sha256-${createHash('sha256').update(text).digest('base64')}`
}
