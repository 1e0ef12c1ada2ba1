import './definitions.css'
import { DEFINITIONS } from '../../analysis/words/definitions.ts'

/** What every number and verdict means. */
export function DefinitionsScreen() {
  return (
    <div className="screen">
      <title>What the numbers mean, Tiphold</title>
      <div className="screen-head">
        <h1>What the numbers mean</h1>
      </div>
      {DEFINITIONS.map(({ title, definitions }) => (
        <section key={title} className="definitions" aria-label={title}>
          <h2>{title}</h2>
          <dl>
            {definitions.map(({ name, means }) => (
              <div key={name}>
                <dt>{name}</dt>
                <dd>{means}</dd>
              </div>
            ))}
          </dl>
        </section>
      ))}
    </div>
  )
}
