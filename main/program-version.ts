import { readFileSync } from 'node:fs'

/** This program's version, as its package states it. */
export const programVersion: string = versionFrom(readFileSync(new URL('../package.json', import.meta.url), 'utf8'))

function versionFrom(packageText: string): string {
  return (JSON.parse(packageText) as { version: string }).version
}
