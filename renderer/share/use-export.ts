import { useEffect, useEffectEvent, useState } from 'react'
import type { Export, ExportOrder } from '../../main/contract/exports.ts'
import { useClient } from '../host/host-provider.tsx'
import { useCall } from '../host/use-call.ts'

export interface Exporting {
  /** What is being made, or was; null before anything was ordered. */
  readonly now: Export | null
  readonly problem: string | null
  readonly isSaved: boolean
  readonly start: (order: ExportOrder) => void
  readonly save: () => void
  readonly stop: () => void
}

/** Orders a file, follows how far it is, and saves it: at once, unless somebody is to look at what it holds first. */
export function useExport(savesAtOnce: (exported: Export) => boolean): Exporting {
  const client = useClient()
  const [exportId, setExportId] = useState<string | null>(null)
  const [savedId, setSavedId] = useState<string | null>(null)
  const [problem, setProblem] = useState<string | null>(null)
  const asked = useCall(
    'exports.get',
    { exportId: exportId ?? '' },
    { enabled: exportId !== null, staleTime: Infinity },
  )
  const now = exportId === null ? null : (asked.data ?? null)

  async function begin(order: ExportOrder): Promise<void> {
    setProblem(null)
    setSavedId(null)
    const started = await client.call('exports.start', order)
    if (started.ok) setExportId(started.value.id)
    else setProblem(started.error.message)
  }

  async function save(): Promise<void> {
    if (now?.state.kind !== 'ready') return
    const saved = await client.saveExport(now.id, now.state.fileName)
    if (!saved.ok) setProblem(saved.error.message)
    else if (saved.value.isSaved) setSavedId(now.id)
  }

  const saveAtOnce = useEffectEvent(() => {
    if (now !== null && savesAtOnce(now)) void save()
  })
  const isReady = now?.state.kind === 'ready'
  useEffect(() => {
    if (isReady) saveAtOnce()
  }, [isReady, exportId])

  return {
    now,
    problem: problem ?? (now?.state.kind === 'failed' ? now.state.message : null),
    isSaved: savedId !== null && savedId === exportId,
    start: (order) => void begin(order),
    save: () => void save(),
    stop: () => {
      if (exportId !== null) void client.call('exports.stop', { exportId })
      setExportId(null)
    },
  }
}
