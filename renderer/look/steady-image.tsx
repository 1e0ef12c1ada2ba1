import { useEffect, useState } from 'react'

/**
 * The picture last loaded, until the wanted one is there: nothing flickers while a handle is dragged, and of the
 * pictures passed on the way only those are fetched for which there is time.
 */
export function useSteadyImage(wanted: string): { readonly shown: string | null; readonly isFailed: boolean } {
  const [shown, setShown] = useState<string | null>(null)
  const [isLoading, setIsLoading] = useState(false)
  const [failed, setFailed] = useState<string | null>(null)
  useEffect(() => {
    if (isLoading || wanted === shown || wanted === failed) return
    setIsLoading(true)
    const image = new Image()
    image.onload = () => {
      setShown(wanted)
      setIsLoading(false)
    }
    image.onerror = () => {
      setFailed(wanted)
      setIsLoading(false)
    }
    image.src = wanted
  }, [wanted, shown, failed, isLoading])
  return { shown, isFailed: failed === wanted }
}
