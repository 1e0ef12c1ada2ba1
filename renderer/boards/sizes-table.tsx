import type { BoardSizes } from '../../analysis/board-sizes/board-sizes.ts'
import { doubtSentence, seenSizeText, sizeNotes } from '../../analysis/board-sizes/size-words.ts'
import type { BuildFinding, BuildPart } from '../../analysis/rules/build-check.ts'
import { BUILD_PARTS, findingInWords, limitsInWords, seenFindingInWords } from '../../analysis/rules/build-words.ts'
import { fixed } from '../../analysis/words/in-words.ts'
import { Notice } from '../look/notice.tsx'

export interface SizesTableProps {
  readonly dimensions: readonly BuildFinding[]
  /** As pictures show them; null where no picture was marked. */
  readonly seen: BoardSizes | null
  readonly lengthM: number
}

/** Each length of a board against the chosen rule set: as it was entered, and as pictures show it. */
export function SizesTable({ dimensions, seen, lengthM }: SizesTableProps) {
  return (
    <section className="stack" aria-labelledby="board-sizes">
      <h2 id="board-sizes">Sizes</h2>
      <div className="table-scroll">
        <table className="table">
          <thead>
            <tr>
              <th scope="col">Size</th>
              <th scope="col">As entered</th>
              <th scope="col">Asked for</th>
              <th scope="col">Finding</th>
              {seen === null ? null : (
                <>
                  <th scope="col">In the pictures</th>
                  <th scope="col">Finding</th>
                </>
              )}
            </tr>
          </thead>
          <tbody>
            {dimensions.map((finding) => (
              <tr key={finding.part}>
                <th scope="row">{BUILD_PARTS[finding.part]}</th>
                <td>{finding.valueM === null ? 'not given' : `${fixed(finding.valueM, 3)} m`}</td>
                <td>{limitsInWords(finding)}</td>
                <td>{findingInWords(finding)}</td>
                {seen === null ? null : <Seen sizes={seen} part={finding.part} />}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {seen === null ? null : (
        <>
          {seen.doubts.map((doubt) => (
            <Notice key={doubt.what} tone="unsure">
              {doubtSentence(doubt, lengthM)}
            </Notice>
          ))}
          {sizeNotes(seen).map((note) => (
            <p key={note} className="soft small">
              {note}
            </p>
          ))}
        </>
      )}
    </section>
  )
}

function Seen({ sizes, part }: { readonly sizes: BoardSizes; readonly part: BuildPart }) {
  const finding = sizes.findings.find((one) => one.part === part)
  return (
    <>
      <td>{seenSizeText(sizes, part)}</td>
      <td>{finding === undefined ? '' : seenFindingInWords(finding)}</td>
    </>
  )
}
