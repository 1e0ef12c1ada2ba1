import { FolderSearch } from 'lucide-react'
import { useState } from 'react'
import { FileTrigger } from 'react-aria-components'
import { useClient } from '../host/host-provider.tsx'
import { useChange } from '../host/use-call.ts'
import { Button } from '../look/button.tsx'
import { Notice } from '../look/notice.tsx'

export interface FindAgainProps {
  readonly clipId: string
  readonly fileName: string
}

/** Lets the handler show where a moved clip lies now. */
export function FindAgain({ clipId, fileName }: FindAgainProps) {
  const client = useClient()
  const find = useChange('clips.findAgain')
  const [isBringing, setIsBringing] = useState(false)
  const [refusal, setRefusal] = useState<string | null>(null)

  async function show(file: File): Promise<void> {
    setIsBringing(true)
    setRefusal(null)
    const brought = await client.bringFile(file, () => undefined)
    setIsBringing(false)
    if (brought.ok) find.mutate({ clipId, fileId: brought.value.fileId })
    else setRefusal(brought.error.message)
  }

  const failure = refusal ?? find.error?.message ?? null
  return (
    <div className="find-again">
      <FileTrigger
        acceptedFileTypes={['video/*', '.mkv', '.mts', '.m2ts']}
        onSelect={(files) => {
          const file = files?.[0]
          if (file !== undefined) void show(file)
        }}
      >
        <Button isDisabled={isBringing || find.isPending} aria-label={`Find ${fileName}`}>
          <FolderSearch aria-hidden="true" />
          {isBringing || find.isPending ? 'Looking' : 'Find the file'}
        </Button>
      </FileTrigger>
      {failure === null ? null : <Notice tone="bad">{failure}</Notice>}
    </div>
  )
}
