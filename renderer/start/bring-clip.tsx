import { Film, Square, X } from 'lucide-react'
import { FileTrigger } from 'react-aria-components'
import { Button, IconButton } from '../look/button.tsx'
import { Notice } from '../look/notice.tsx'
import { Progress } from '../look/progress.tsx'
import { useImports } from './imports.tsx'

/** The place to drop clips on, with what is on its way in. */
export function BringClip({ onFiles }: { readonly onFiles: (files: readonly File[]) => void }) {
  const { imports, putAway, stop } = useImports()
  return (
    <section className="bring" aria-label="Add a clip">
      <div className="bring-place">
        <Film aria-hidden="true" strokeWidth={1.4} />
        <div>
          <h2>Drop a clip of a ride here</h2>
          <p className="soft">Filmed from the side, the whole plank in the picture, the phone on something steady.</p>
        </div>
        <FileTrigger
          acceptedFileTypes={['video/*', '.mkv', '.mts', '.m2ts']}
          allowsMultiple
          onSelect={(files) => {
            if (files !== null && files.length > 0) onFiles([...files])
          }}
        >
          <Button look="primary">Choose a file</Button>
        </FileTrigger>
      </div>
      {imports.map(({ key, fileName, state }) =>
        state.kind === 'failed' ? (
          <Notice
            key={key}
            tone="bad"
            actions={
              <IconButton label="Close" onPress={() => putAway(key)}>
                <X aria-hidden="true" />
              </IconButton>
            }
          >
            {state.message.includes(fileName) ? null : <strong>{fileName}: </strong>}
            {state.message}
          </Notice>
        ) : (
          <div key={key} className="job-progress">
            <Progress
              label={state.kind === 'sending' ? `Copying ${fileName}` : `Reading ${fileName}`}
              shareDone={state.kind === 'sending' ? state.shareDone : null}
            />
            {state.kind === 'sending' ? (
              <Button aria-label={`Stop copying ${fileName}`} onPress={() => stop(key)}>
                <Square aria-hidden="true" />
                Stop
              </Button>
            ) : null}
          </div>
        ),
      )}
    </section>
  )
}
