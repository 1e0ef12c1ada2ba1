import { useEffect } from 'react'

/**
 * Keeps the focus near where it was when the control that has it goes away: keys go on from there, not from the top of
 * the window. Dialogs and menus, which lie beside the window, give the focus back by themselves.
 */
export function FocusKeeper() {
  useEffect(() => {
    let path: readonly Element[] = []
    const remember = ({ target }: FocusEvent): void => {
      path = target instanceof Element ? [...ancestors(target)] : []
    }
    const check = (): void => {
      if (document.activeElement !== document.body || path[0]?.isConnected !== false) return
      const near = path.find((one) => one.isConnected)
      path = []
      if (!(near instanceof HTMLElement) || near === document.body || near === document.documentElement) return
      if (!near.hasAttribute('tabindex')) near.tabIndex = -1
      near.focus({ preventScroll: true })
    }
    const watch = new MutationObserver(check)
    watch.observe(document.body, { childList: true, subtree: true })
    document.addEventListener('focusin', remember)
    return () => {
      watch.disconnect()
      document.removeEventListener('focusin', remember)
    }
  }, [])
  return null
}

function* ancestors(element: Element): Generator<Element> {
  for (let one: Element | null = element; one !== null; one = one.parentElement) yield one
}
