import type { Handlers } from '../contract/calls.ts'
import type { Library } from '../library/library.ts'
import { answered } from '../library/library-problem.ts'

export function settingsServices({ settings }: Library): Pick<Handlers, 'settings.get' | 'settings.keep'> {
  return {
    'settings.get': () => answered(() => settings.get()),

    'settings.keep': (chosen) =>
      answered(async () => {
        await settings.keep(chosen)
        return settings.get()
      }),
  }
}
