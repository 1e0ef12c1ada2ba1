import { Link } from 'react-router'
import type { Estimate } from '../../analysis/estimate.ts'
import { figureText } from '../../analysis/board-physics/board-words.ts'
import { fixed, placeInWords } from '../../analysis/words/in-words.ts'
import type { BoardDrop } from '../../main/contract/drops.ts'
import { dayInWords } from '../lists/verdict-words.ts'

/** The drop tests of a board, the latest first, each with its way back to its clip. */
export function DropList({ drops, lengthM }: { readonly drops: readonly BoardDrop[]; readonly lengthM: number }) {
  if (drops.length === 0) return null
  return (
    <section className="stack" aria-labelledby="board-drops">
      <h2 id="board-drops">{drops.length === 1 ? 'One drop test' : `${drops.length} drop tests`}</h2>
      <div className="table-scroll">
        <table className="table">
          <thead>
            <tr>
              <th scope="col">Day</th>
              <th scope="col">Clip</th>
              <th scope="col">Weight</th>
              <th scope="col">From placing</th>
              <th scope="col">From letting go</th>
              <th scope="col">Springs back</th>
            </tr>
          </thead>
          <tbody>
            {drops.map((drop) => (
              <tr key={keyOf(drop)}>
                <td>{dayInWords(drop.day)}</td>
                <td>
                  <Link to={`/clips/${drop.clipId}/set-up`}>{drop.fileName}</Link>
                  {drop.place === null ? null : `, drop ${drop.place.number} of ${drop.place.of}`}
                </td>
                <td>
                  {fixed(drop.massKg, 2)} kg {placeInWords(drop.massAtM, lengthM)}
                </td>
                {drop.moved === false ? (
                  <td colSpan={3}>did not move</td>
                ) : (
                  <>
                    <td>{figureText(drop.measures.fallFromPlacedS, 2, 's')}</td>
                    <td>{figureText(drop.measures.fallFromReleasedS, 2, 's')}</td>
                    <td>{bounceText(drop.measures.bounceM)}</td>
                  </>
                )}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {drops.map((drop) =>
        drop.notes.map((note) => (
          <p key={`${keyOf(drop)} ${note}`} className="soft small">
            {drop.fileName}: {note}
          </p>
        )),
      )}
    </section>
  )
}

function keyOf({ clipId, place }: BoardDrop): string {
  return `${clipId} ${place?.number ?? 1}`
}

function bounceText(bounceM: Estimate): string {
  if (bounceM.kind !== 'measured') return figureText(bounceM, 0, 'mm')
  const [lowM, highM] = bounceM.ci95
  const mm = { ...bounceM, value: bounceM.value * 1000, sd: bounceM.sd * 1000 }
  return figureText({ ...mm, ci95: [lowM * 1000, highM * 1000] }, 0, 'mm')
}
