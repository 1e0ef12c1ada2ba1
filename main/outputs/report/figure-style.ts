import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { join } from 'node:path'

const FIGURES = join(import.meta.dirname, '../../../renderer/figures')
const require = createRequire(import.meta.url)

/** Roles of colour and the figures' own style, as the window has them. */
export function figureStyle(): string {
  return ['tokens.css', 'figures.css'].map((name) => readFileSync(join(FIGURES, name), 'utf8')).join('\n')
}

/** The same for paper: every role is the colour that it is on a light ground, comments and at-rules are left out. */
export function figureStyleOnPaper(): string {
  const css = figureStyle().replace(/\/\*.*?\*\//gs, '')
  const roles = new Map(
    [...css.matchAll(/(--[\w-]+):\s*(?:light-dark\((#\w+),[^)]*\)|(#\w+));/g)].map(([, name, light, both]) => [
      name,
      light ?? both,
    ]),
  )
  roles.set('--paper', '#ffffff')
  return css
    .replace(/:root[^{]*\{[^}]*\}/g, '')
    .replace(/var\((--[\w-]+)\)/g, (_, name: string) => {
      const colour = roles.get(name)
      if (colour === undefined) throw new Error(`tokens.css has no colour ${name}`)
      return colour
    })
    .trim()
}

/** The colour of one role on paper. */
export function colourOnPaper(role: string): string {
  const light = new RegExp(`--${role}:\\s*light-dark\\((#\\w+),`).exec(figureStyle())?.[1]
  if (light === undefined) throw new Error(`tokens.css has no colour --${role}`)
  return light
}

/** The window's font for a page, as a data address. */
export function fontForPages(): string {
  const file = require.resolve('@fontsource-variable/figtree/files/figtree-latin-wght-normal.woff2')
  return `data:font/woff2;base64,${readFileSync(file).toString('base64')}`
}

/** The files of the same font for PDF, which takes no variable ones. */
export function fontsForPdf(): { readonly regular: string; readonly bold: string } {
  const file = (style: string) => require.resolve(`@expo-google-fonts/figtree/${style}`)
  return { regular: file('400Regular/Figtree_400Regular.ttf'), bold: file('600SemiBold/Figtree_600SemiBold.ttf') }
}
