import { useEffect } from 'react'
import { BRIDGE_NAME } from '../../main/contract/host-bridge.ts'
import { useJobs } from '../host/use-call.ts'

/**
 * In a browser window: closing while a clip is measured asks first. The desktop shell asks by itself, and would take
 * this one's question for a refusal.
 */
export function ClosingGuard() {
  const isMeasuring = useJobs().some(({ state }) => state.kind === 'running' || state.kind === 'waiting')
  useEffect(() => {
    if (!isMeasuring || BRIDGE_NAME in globalThis) return
    const ask = (event: BeforeUnloadEvent): void => event.preventDefault()
    window.addEventListener('beforeunload', ask)
    return () => window.removeEventListener('beforeunload', ask)
  }, [isMeasuring])
  return null
}
