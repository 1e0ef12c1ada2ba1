import './ride.css'
import type { ClipDetail } from '../../main/contract/clips.ts'
import type { RideDetail } from '../../main/contract/rides.ts'
import { useCall } from '../host/use-call.ts'
import { rideName } from '../../analysis/words/ride-name.ts'
import { Answer } from '../look/answer.tsx'
import { OpenRide } from './open-ride.tsx'

/** One ride: its film, its chart and its results, all of which can be corrected. */
export function RideScreen({ rideId }: { readonly rideId: string }) {
  const ride = useCall('rides.get', { rideId })
  return (
    <Answer of={ride}>
      {(detail) => (
        <>
          <title>{`${rideName(detail.card)}, Tiphold`}</title>
          <WithClip detail={detail} />
        </>
      )}
    </Answer>
  )
}

function WithClip({ detail }: { readonly detail: RideDetail }) {
  const clip = useCall('clips.get', { clipId: detail.card.clipId })
  return <Answer of={clip}>{(value: ClipDetail) => <OpenRide detail={detail} clip={value} />}</Answer>
}
