import { useEffect } from 'react'
import { useSettings } from './use-settings.ts'

/** Puts theme and text size of the settings on the whole window; shows nothing itself. */
export function Appearance() {
  const { theme, textScale } = useSettings().settings
  useEffect(() => {
    const root = document.documentElement
    if (theme === 'as-system') delete root.dataset['theme']
    else root.dataset['theme'] = theme
    root.style.setProperty('--text-scale', String(textScale))
  }, [theme, textScale])
  return null
}
