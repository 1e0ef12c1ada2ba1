import '../lists/lists.css'
import './season.css'
import { ArrowDown, Plus } from 'lucide-react'
import { useState } from 'react'
import type { Dog } from '../../main/contract/dogs-and-boards.ts'
import type { DogSeason } from '../../main/contract/seasons.ts'
import { leftEarly } from '../../analysis/progress/rates.ts'
import { nothingInWords, SEASON_CAUTIONS } from '../../analysis/progress/report-words.ts'
import type { Sentence } from '../../analysis/progress/report-parts.ts'
import { useSettings } from '../app/use-settings.ts'
import { useCall } from '../host/use-call.ts'
import { lengthUnit, massUnit, shownIn } from '../lists/lengths.ts'
import { dayInWords } from '../lists/verdict-words.ts'
import { Button, ButtonLink } from '../look/button.tsx'
import { Answer } from '../look/answer.tsx'
import { Notice } from '../look/notice.tsx'
import { ByHandDialog } from './by-hand-dialog.tsx'
import { RidesTable } from './rides-table.tsx'
import { SaveSeason } from './save-season.tsx'
import { SeasonComments } from './season-comments.tsx'
import { figureId, SeasonFigures } from './season-figures.tsx'
import { Splits } from './splits.tsx'

/** A dog's page: what its rides say together, and the season they say it of. */
export function SeasonScreen({ dogId }: { readonly dogId: string }) {
  const dog = useCall('dogs.list', {}).data?.find(({ id }) => id === dogId)
  const season = useCall('seasons.get', { dogId })
  const [isEntering, setIsEntering] = useState(false)
  const name = dog?.name ?? season.data?.season.dog ?? 'Dog'
  return (
    <div className="screen season">
      <title>{`${name}, Tiphold`}</title>
      <div className="screen-head">
        <h1>{name}</h1>
        <div className="head-actions">
          <ButtonLink to={`/dogs/${dogId}/show`} look="primary">
            Show check
          </ButtonLink>
          <ButtonLink to={`/compare?one=${dogId}`}>Compare</ButtonLink>
          <Button onPress={() => setIsEntering(true)}>
            <Plus aria-hidden="true" />
            Ride by hand
          </Button>
          <SaveSeason dogId={dogId} />
        </div>
      </div>
      {dog === undefined ? null : <DogFacts dog={dog} />}
      <Answer of={season} doing="Working the rides out">
        {(worked) => <SeasonOf dog={worked} />}
      </Answer>
      {isEntering ? <ByHandDialog dogId={dogId} ride={null} onClose={() => setIsEntering(false)} /> : null}
    </div>
  )
}

const POSITIONS = { 'four-on': 'four-on', '2o2o': 'two-on-two-off', running: 'a running contact' } as const

function DogFacts({ dog }: { readonly dog: Dog }) {
  const { units } = useSettings().settings
  const { criterion, bodyBefore, bodyDay, massKg, withersM, note } = dog
  const hold =
    criterion === null || criterion.holdAfterGroundS === 0
      ? ''
      : `, held ${criterion.holdAfterGroundS} s after the landing`
  const last = bodyBefore.at(-1)
  const facts = [
    criterion === null ? null : `Trained to ${POSITIONS[criterion.position]}${hold}.`,
    massKg === null
      ? null
      : `${shownIn(massUnit(units), massKg)}${bodyDay === null ? '' : ` on ${dayInWords(bodyDay)}`}${
          last?.massKg == null || last.day === null
            ? ''
            : `, ${shownIn(massUnit(units), last.massKg)} on ${dayInWords(last.day)}`
        }.`,
    withersM === null ? null : `${shownIn(lengthUnit(units), withersM)} at the withers.`,
    note === '' ? null : note,
  ].filter((fact) => fact !== null)
  return facts.length === 0 ? null : <p className="soft season-facts">{facts.join(' ')}</p>
}

function SeasonOf({ dog }: { readonly dog: DogSeason }) {
  const { report, season } = dog
  const [chosen, setChosen] = useState<Sentence | null>(null)
  const undated = season.rides.filter(({ day }) => day === null).length
  if (season.rides.length === 0)
    return <p className="nothing">No rides yet. Measure a clip of this dog, or enter a ride by hand.</p>

  function show(sentence: Sentence): void {
    setChosen(sentence === chosen ? null : sentence)
    if (sentence !== chosen) showFigure(sentence.about)
  }

  return (
    <>
      <section className="season-story" aria-label="In short">
        {report.sentences.length === 0 ? (
          <p className="season-lede">{nothingInWords(report)}</p>
        ) : (
          <ol>
            {report.sentences.map((sentence) => (
              <li key={sentence.text}>
                <p className="season-lede">{sentence.text}</p>
                <Button
                  look="quiet"
                  aria-pressed={sentence === chosen}
                  aria-label={`Show the rides behind: ${sentence.text}`}
                  onPress={() => show(sentence)}
                >
                  {sentence === chosen ? 'Show all rides' : countInWords(tellingRides(sentence, dog).length)}
                  {sentence === chosen ? null : <ArrowDown aria-hidden="true" />}
                </Button>
              </li>
            ))}
          </ol>
        )}
        {dog.rides.some(({ isInvented }) => isInvented) ? (
          <Notice>These rides are invented, to try the program on. No dog ever rode them.</Notice>
        ) : null}
        {report.byHand === 0 ? null : (
          <p className="soft">
            {report.byHand} of {report.rides} rides were entered by hand; they are in none of the measured numbers.
          </p>
        )}
        {undated === 0 || undated === season.rides.length ? null : (
          <p className="soft">
            {undated === 1 ? '1 ride has' : `${undated} rides have`} no day, and so no place in the season: select rides
            in the list of rides to set it.
          </p>
        )}
      </section>
      <SeasonFigures of={dog} marked={chosen === null ? null : new Set(tellingRides(chosen, dog))} />
      <Splits of={dog} />
      {report.hints.length === 0 ? null : (
        <section className="season-part" aria-labelledby="season-hints">
          <h2 id="season-hints">For the next sessions</h2>
          <ul className="season-list">
            {report.hints.map(({ text, source }) => (
              <li key={text}>
                {text} <span className="soft">({source})</span>
              </li>
            ))}
          </ul>
        </section>
      )}
      <SeasonComments of={dog} />
      <RidesTable of={dog} />
      <section className="season-part" aria-labelledby="season-cautions">
        <h2 id="season-cautions">Keep in mind</h2>
        <ul className="season-list soft">
          {SEASON_CAUTIONS.map((caution) => (
            <li key={caution}>{caution}</li>
          ))}
        </ul>
      </section>
    </>
  )
}

function countInWords(rides: number): string {
  return rides === 1 ? 'Show the ride' : `Show the ${rides} rides`
}

/** The rides that a sentence points at: of a rate those on which it happened, else all that it rests on. */
function tellingRides({ about, restsOn }: Sentence, { season }: DogSeason): readonly number[] {
  const happened = season.rides.filter((ride) => {
    if (about === 'early') return leftEarly(ride) === 'yes'
    if (about === 'paused') return ride.paused === true
    if (about === 'turned-back') return ride.turnedBack === true
    return about === 'down-missed' ? ride.downZone === 'missed' : about === 'up-missed' && ride.upZone === 'missed'
  })
  const among = happened.flatMap(({ index }) => (restsOn.includes(index) ? [index] : []))
  return among.length === 0 ? restsOn : among
}

/** Goes to the figure that a sentence is about; rates stand in their table. */
function showFigure(about: string): void {
  const figure =
    document.getElementById(figureId(about)) ??
    document.getElementById(figureId(about === 'early' || about.endsWith('missed') ? 'season' : 'rates'))
  figure?.scrollIntoView({ block: 'center' })
  const first = figure?.querySelector<SVGAElement>('a[data-ride]:not(.season-aside)')
  first?.focus({ preventScroll: true })
}
