import './share.css'
import { useState } from 'react'
import type { FilmOverlays, FilmSize } from '../../main/contract/exports.ts'
import { useCall } from '../host/use-call.ts'
import { Button } from '../look/button.tsx'
import { Choice, Tick } from '../look/choice.tsx'
import { Dialog } from '../look/dialog.tsx'
import { TextField } from '../look/fields.tsx'
import { ExportProgress } from './export-progress.tsx'
import { type Exporting, useExport } from './use-export.ts'

export interface ShareDialogProps {
  readonly rideId: string
  /** The moment of the picture that is shown, s. */
  readonly shownS: number
  readonly overlays: FilmOverlays
  readonly hasSound: boolean
  readonly onClose: () => void
}

/** Everything that a ride can be saved as. Nothing leaves this machine but the file that is saved. */
export function ShareDialog({ rideId, shownS, overlays, hasSound, onClose }: ShareDialogProps) {
  const exporting = useExport(({ what }) => what !== 'pack')
  const { now, start } = exporting
  const isBusy = now?.state.kind === 'running'
  const close = (): void => {
    if (isBusy) exporting.stop()
    onClose()
  }
  return (
    <Dialog title="Share this ride" onClose={close}>
      <div className="share">
        <section aria-label="Files">
          <h3>Save as a file</h3>
          <div className="share-row">
            <Button isDisabled={isBusy} onPress={() => start({ what: 'report-pdf', rideId })}>
              Report (PDF)
            </Button>
            <Button isDisabled={isBusy} onPress={() => start({ what: 'report-html', rideId })}>
              Report (HTML)
            </Button>
            <Button isDisabled={isBusy} onPress={() => start({ what: 'still', rideId, atS: shownS, overlays })}>
              This picture (PNG)
            </Button>
            <Button isDisabled={isBusy} onPress={() => start({ what: 'numbers-csv', rideId })}>
              Numbers (CSV)
            </Button>
            <Button isDisabled={isBusy} onPress={() => start({ what: 'numbers-json', rideId })}>
              Numbers (JSON)
            </Button>
            <Button isDisabled={isBusy} onPress={() => start({ what: 'comments', rideId })}>
              Comments (text)
            </Button>
          </div>
        </section>
        <FilmPart rideId={rideId} overlays={overlays} hasSound={hasSound} isBusy={isBusy} exporting={exporting} />
        <PackPart rideId={rideId} hasSound={hasSound} isBusy={isBusy} exporting={exporting} />
        <ExportProgress exporting={exporting} />
        <p className="soft small">
          Nothing leaves this computer but the file that you save. Films and pictures do not tell where, when or with
          what phone they were taken; whoever can be seen or heard in them goes along. A pack holds spoken comments,
          too.
        </p>
      </div>
      <div className="dialog-foot">
        <Button onPress={close}>Close</Button>
      </div>
    </Dialog>
  )
}

interface PartProps {
  readonly rideId: string
  readonly hasSound: boolean
  readonly isBusy: boolean
  readonly exporting: Exporting
}

function FilmPart({ rideId, overlays, hasSound, isBusy, exporting }: PartProps & { readonly overlays: FilmOverlays }) {
  const [drawn, setDrawn] = useState(overlays)
  const [isSlowed, setIsSlowed] = useState(true)
  const [hasTitle, setHasTitle] = useState(true)
  const goesWithSound = hasSound && !isSlowed && !hasTitle
  const toggle = (name: keyof FilmOverlays) => (isOn: boolean) => setDrawn({ ...drawn, [name]: isOn })
  const order = { what: 'clip', rideId, overlays: drawn, isSlowed, hasTitle, hasSound: goesWithSound } as const
  return (
    <section aria-label="Film">
      <h3>Film with drawings (MP4)</h3>
      <div className="share-row">
        <Tick isSelected={drawn.plank} onChange={toggle('plank')}>
          Plank
        </Tick>
        <Tick isSelected={drawn.zones} onChange={toggle('zones')}>
          Zones
        </Tick>
        <Tick isSelected={drawn.paws} onChange={toggle('paws')}>
          Paws
        </Tick>
        <Tick isSelected={drawn.dog} onChange={toggle('dog')}>
          Outline
        </Tick>
        <Tick isSelected={isSlowed} onChange={setIsSlowed}>
          Slow around tip and landing
        </Tick>
        <Tick isSelected={hasTitle} onChange={setHasTitle}>
          Numbers at the start
        </Tick>
      </div>
      <div className="share-row">
        <Button isDisabled={isBusy} onPress={() => exporting.start(order)}>
          Make the film
        </Button>
        <span className="soft small">
          {goesWithSound ? 'With its sound.' : 'No sound: it is kept only at normal speed and without the numbers.'}
        </span>
      </div>
    </section>
  )
}

const SIZES: readonly { readonly key: FilmSize; readonly name: string }[] = [
  { key: 'small', name: 'Small' },
  { key: 'medium', name: 'Medium' },
  { key: 'large', name: 'Large' },
]

function PackPart({ rideId, hasSound, isBusy, exporting }: PartProps) {
  const self = useCall('reviews.self', {}).data
  const [typed, setTyped] = useState<string | null>(null)
  const [size, setSize] = useState<FilmSize>('medium')
  const [isHeard, setIsHeard] = useState(false)
  const name = (typed ?? self?.name ?? '').trim()
  return (
    <section aria-label="For the coach">
      <h3>Review pack for a coach</h3>
      <p className="soft small">
        One file with film, numbers, your corrections and comments. Your coach opens it in Tiphold or in any browser,
        comments and draws on it, and sends a reply.
      </p>
      <TextField label="Your name" value={typed ?? self?.name ?? ''} onChange={setTyped} maxLength={80} />
      <Choice label="Film" options={SIZES} selected={size} onSelect={setSize} />
      {hasSound ? (
        <Tick isSelected={isHeard} onChange={setIsHeard}>
          With sound
        </Tick>
      ) : null}
      <div className="share-row">
        <Button
          look="primary"
          isDisabled={isBusy || name === ''}
          onPress={() => exporting.start({ what: 'pack', rideId, size, hasSound: isHeard, name })}
        >
          Make the pack
        </Button>
        {name === '' ? <span className="soft small">Say who sends it first.</span> : null}
      </div>
    </section>
  )
}
