import type { BuildFinding } from '../../analysis/rules/build-check.ts'
import { BUILD_PARTS, findingInWords, limitsInWords } from '../../analysis/rules/build-words.ts'
import { fixed } from '../../analysis/words/in-words.ts'

/** Each length of a board against the chosen rule set. */
export function SizesTable({ dimensions }: { readonly dimensions: readonly BuildFinding[] }) {
  return (
    <section className="stack" aria-labelledby="board-sizes">
      <h2 id="board-sizes">Sizes</h2>
      <div className="table-scroll">
        <table className="table">
          <thead>
            <tr>
              <th scope="col">Size</th>
              <th scope="col">This board</th>
              <th scope="col">Asked for</th>
              <th scope="col">Finding</th>
            </tr>
          </thead>
          <tbody>
            {dimensions.map((finding) => (
              <tr key={finding.part}>
                <th scope="row">{BUILD_PARTS[finding.part]}</th>
                <td>{finding.valueM === null ? 'not given' : `${fixed(finding.valueM, 3)} m`}</td>
                <td>{limitsInWords(finding)}</td>
                <td>{findingInWords(finding)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  )
}
