import type { BoardCheckFile } from '../../analysis/board-physics/board-check-file.ts'
import { figureText } from '../../analysis/board-physics/board-words.ts'
import { fixed } from '../../analysis/words/in-words.ts'
import { sizesInWords } from '../../analysis/rules/build-words.ts'
import { sourceInWords } from '../../analysis/rules/rule-words.ts'
import type { DropRules } from '../../main/contract/drops.ts'
import { Choice } from '../look/choice.tsx'

export interface RulesTableProps {
  readonly checks: readonly BoardCheckFile[]
  readonly chosen: DropRules
  readonly onChoose: (rules: DropRules) => void
}

const VERDICTS: Readonly<Record<BoardCheckFile['verdict'], string>> = {
  within: 'within the window',
  'too-fast': 'too fast',
  'too-slow': 'too slow',
  'never-moves': 'does not move',
  'too-close': 'too close to call',
}

/** One board against several rule sets at once; the details below are by the chosen one. */
export function RulesTable({ checks, chosen, onChoose }: RulesTableProps) {
  return (
    <section className="stack" aria-labelledby="board-rules">
      <h2 id="board-rules">Against the rule books</h2>
      <div className="table-scroll">
        <table className="table">
          <thead>
            <tr>
              <th scope="col">Rules</th>
              <th scope="col">Weight</th>
              <th scope="col">Asked for</th>
              <th scope="col">This board</th>
              <th scope="col">Verdict</th>
              <th scope="col">Sizes</th>
            </tr>
          </thead>
          <tbody>
            {checks.map((check) => (
              <tr key={check.rules.key} data-chosen={check.rules.key === chosen}>
                <th scope="row">{check.rules.name}</th>
                <td>{fixed(check.test.massKg, 2)}&nbsp;kg</td>
                <td>{windowOf(check)}</td>
                <td>{figureText(check.fallS, 2, 's')}</td>
                <td>{VERDICTS[check.verdict]}</td>
                <td>{sizesInWords(check.dimensions)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <p className="soft small">
        {[...new Set(checks.map(({ rules }) => sourceInWords(rules.source)))].join('; ')}. Rules change: check your own
        rule book.
      </p>
      <Choice
        label="Details by"
        options={checks.map(({ rules }) => ({ key: rules.key as DropRules, name: rules.name }))}
        selected={chosen}
        onSelect={onChoose}
      />
    </section>
  )
}

function windowOf({ test: { leastS, mostS, timedFrom } }: BoardCheckFile): string {
  const window = leastS === null ? `less than ${mostS} s` : `${leastS} to ${mostS} s`
  return `${window} from ${timedFrom === 'placed' ? 'placing' : 'letting go'}`
}
