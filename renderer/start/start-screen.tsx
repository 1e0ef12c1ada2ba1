import './start.css'
import { useState } from 'react'
import { DropZone } from 'react-aria-components'
import { useNavigate } from 'react-router'
import { FirstCautions } from '../app/cautions.tsx'
import { Notice } from '../look/notice.tsx'
import { BringClip } from './bring-clip.tsx'
import { ClipsOnTheirWay } from './clips-on-their-way.tsx'
import { droppedFiles } from './dropped-files.ts'
import { useImports } from './imports.tsx'
import { RecentRides } from './recent-rides.tsx'
import { RunningWork } from './running-work.tsx'
import { SampleRides } from './sample-rides.tsx'
import { UnreadableThings } from './unreadable-things.tsx'

/** The first screen: bring a clip, go on with one, look at rides. A clip may be dropped anywhere on it. */
export function StartScreen() {
  const { takeIn } = useImports()
  const navigate = useNavigate()
  const [refusal, setRefusal] = useState<string | null>(null)

  async function bring(files: readonly File[]): Promise<void> {
    setRefusal(null)
    const clipIds = await takeIn(files)
    const [only] = clipIds
    // One clip: on with it. Several: they wait here, each with its next step.
    if (files.length === 1 && only !== undefined) void navigate(`/clips/${only}/set-up`)
  }

  return (
    <DropZone
      className="start-drop"
      aria-label="Drop a clip"
      getDropOperation={() => 'copy'}
      onDrop={({ items }) => {
        void droppedFiles(items).then((files) => {
          if (files.length > 0) return bring(files)
          setRefusal('That is not a file. Drop the clip itself, not a folder or a link.')
          return undefined
        })
      }}
    >
      <title>Tiphold</title>
      <div className="screen">
        <h1 className="unseen">Start</h1>
        <div className="start">
          <div className="start-main">
            <BringClip onFiles={(files) => void bring(files)} />
            {refusal === null ? null : <Notice tone="bad">{refusal}</Notice>}
            <UnreadableThings />
            <RunningWork />
            <ClipsOnTheirWay />
            <RecentRides />
            <SampleRides />
          </div>
          <FirstCautions />
        </div>
      </div>
    </DropZone>
  )
}
