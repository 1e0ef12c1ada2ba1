import './start.css'
import { useState } from 'react'
import { DropZone } from 'react-aria-components'
import { useNavigate } from 'react-router'
import { FirstCautions } from '../app/cautions.tsx'
import { useSettings } from '../app/use-settings.ts'
import { togetherWith } from '../clip/clip-row.ts'
import { Notice } from '../look/notice.tsx'
import { BringClip } from './bring-clip.tsx'
import { ClipsOnTheirWay } from './clips-on-their-way.tsx'
import { droppedFiles } from './dropped-files.ts'
import { useImports } from './imports.tsx'
import { InventedSeason } from './invented-season.tsx'
import { RecentRides } from './recent-rides.tsx'
import { RunningWork } from './running-work.tsx'
import { SampleRides } from './sample-rides.tsx'
import { UnreadableThings } from './unreadable-things.tsx'

/** The first screen: bring a clip, go on with one, look at rides. A clip may be dropped anywhere on it. */
export function StartScreen() {
  const { takeIn } = useImports()
  const navigate = useNavigate()
  const { settings } = useSettings()
  const [refusal, setRefusal] = useState<string | null>(null)

  async function bring(files: readonly File[]): Promise<void> {
    setRefusal(null)
    const clips = await takeIn(files)
    // What is known is measured on arrival, if that was chosen; what is not stands here with its next step.
    const toDo = clips.filter(({ stage }) => stage !== 'measured' && stage !== 'measuring')
    if (settings.measureOnArrival && toDo.every(({ stage }) => stage === 'to-mark')) return
    const [first] = clips
    if (files.length === 1 && first !== undefined)
      void navigate(`/clips/${first.id}/${first.stage === 'to-mark' ? 'marking' : 'set-up'}`)
    else if (toDo.length > 1) void navigate(togetherWith(toDo.map(({ id }) => id)))
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
            <InventedSeason />
          </div>
          <FirstCautions />
        </div>
      </div>
    </DropZone>
  )
}
