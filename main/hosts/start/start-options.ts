/** How `npm start` is to show the window. */
export type StartOptions =
  | { readonly kind: 'help' }
  /** Electron if it can be, else a browser. */
  | { readonly kind: 'window' }
  | { readonly kind: 'browser' }
  /** Only tells the address. */
  | { readonly kind: 'address' }
  | { readonly kind: 'wrong'; readonly sentence: string }

export const START_HELP = `Starts Tiphold.

  npm start                 in a window of its own, or in a browser where that cannot be
  npm start -- --browser    in a browser
  npm start -- --no-open    opens nothing and prints the address

TIPHOLD_LIBRARY names another folder for the library.`

export function readStartOptions(args: readonly string[]): StartOptions {
  const known = ['--browser', '--no-open', '--help', '-h']
  const unknown = args.find((arg) => !known.includes(arg))
  if (unknown !== undefined) {
    return { kind: 'wrong', sentence: `Unknown option ${unknown}: use --browser, --no-open or --help.` }
  }
  if (args.includes('--help') || args.includes('-h')) return { kind: 'help' }
  if (args.includes('--no-open')) return { kind: 'address' }
  return { kind: args.includes('--browser') ? 'browser' : 'window' }
}
