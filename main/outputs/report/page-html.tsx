import type { ReactElement } from 'react'
import { renderToStaticMarkup } from 'react-dom/server'
import { figureStyle, fontForPages } from './figure-style.ts'
import { pageStyle } from './page-style.ts'
import type { Block, Caption, Card, ReportPage, Sentence } from './report-page.ts'

/** A page as HTML that needs nothing from outside: style, font, drawings and pictures are in it, and no script. */
export function pageHtml(page: ReportPage): string {
  return `<!doctype html>\n${renderToStaticMarkup(<Page page={page} />)}\n`
}

function Page({ page: { title, blocks, foot } }: { readonly page: ReportPage }) {
  const font = `@font-face { font-family: "Figtree"; font-weight: 300 900; src: url(${fontForPages()}) format("woff2"); }`
  return (
    <html lang="en">
      <head>
        <meta charSet="utf-8" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta name="color-scheme" content="light dark" />
        <title>{title}</title>
        <style dangerouslySetInnerHTML={{ __html: `${font}\n${figureStyle()}\n${pageStyle}` }} />
      </head>
      <body>
        <main>
          <header>
            <b>Tiphold</b>
            <h1>{title}</h1>
          </header>
          <Blocks blocks={blocks} />
          <footer>
            {foot.map((line) => (
              <p key={line}>{line}</p>
            ))}
          </footer>
        </main>
      </body>
    </html>
  )
}

function Blocks({ blocks }: { readonly blocks: readonly Block[] }) {
  return (
    <div className="blocks">
      {blocks.map((block, k) => (
        <BlockPart key={k} block={block} />
      ))}
    </div>
  )
}

function BlockPart({ block }: { readonly block: Block }): ReactElement {
  switch (block.kind) {
    case 'columns': {
      const shares = block.columns.map(({ share }) => `minmax(0, ${share}fr)`).join(' ')
      return (
        <div className="columns" style={{ gridTemplateColumns: shares }}>
          {block.columns.map(({ blocks }, k) => (
            <div key={k} className="column">
              <Blocks blocks={blocks} />
            </div>
          ))}
        </div>
      )
    }
    case 'section':
      return (
        <section>
          <h2>{block.title}</h2>
          <Blocks blocks={block.blocks} />
        </section>
      )
    case 'answer':
      return <Answer sentence={block.sentence} scale={block.scale} />
    case 'cards':
      return (
        <div className="cards">
          {block.cards.map((card) => (
            <CardPart key={card.title} card={card} />
          ))}
        </div>
      )
    case 'text':
      return <p className={block.tone === 'soft' ? 'soft' : undefined}>{block.text}</p>
    case 'figure':
      return <Figure figure={block.figure} caption={block.caption} />
    case 'legend':
      return (
        <p className="legend">
          {block.signs.map(({ sign, words }) => (
            <span key={words}>
              {sign}
              {words}
            </span>
          ))}
        </p>
      )
    case 'facts':
      return (
        <dl>
          {block.facts.map(({ name, text }) => (
            <div key={name}>
              <dt>{name}</dt>
              <dd>{text}</dd>
            </div>
          ))}
        </dl>
      )
    case 'list':
      return (
        <ul className={block.tone === 'soft' ? 'soft' : undefined}>
          {block.items.map((item) => (
            <li key={item}>{item}</li>
          ))}
        </ul>
      )
    case 'table':
      return <Table head={block.head} rows={block.rows} />
  }
}

function Answer(props: { readonly sentence: Sentence; readonly scale: ReactElement | null }) {
  const { lead, figure, margin, tail, more } = props.sentence
  return (
    <div className="answer">
      <p>
        <span className="lead">{lead}</span> <strong>{margin === null && tail === null ? `${figure}.` : figure}</strong>
        {margin === null ? null : <span className="margin"> {tail === null ? `${margin}.` : margin}</span>}
        {tail === null ? null : <strong> {tail}.</strong>}
      </p>
      {props.scale}
      {more === null ? null : <p className="more">{more}</p>}
    </div>
  )
}

function CardPart({ card: { title, shape, word, scale, text } }: { readonly card: Card }) {
  return (
    <article className="card">
      <h3>{title}</h3>
      <p className="word">
        {shape}
        {word}
      </p>
      {scale}
      {text === '' ? null : <p className="text">{text}</p>}
    </article>
  )
}

function Figure({ figure, caption }: { readonly figure: ReactElement; readonly caption: Caption | null }) {
  return (
    <figure className={caption === null ? 'wide' : undefined}>
      {figure}
      {caption === null ? null : (
        <figcaption>
          <b>{caption.title}</b>
          <span>{caption.facts}</span>
        </figcaption>
      )}
    </figure>
  )
}

function Table({
  head,
  rows,
}: {
  readonly head: readonly string[] | null
  readonly rows: readonly (readonly string[])[]
}) {
  return (
    <table>
      {head === null ? null : (
        <thead>
          <tr>
            {head.map((name) => (
              <th key={name} scope="col">
                {name}
              </th>
            ))}
          </tr>
        </thead>
      )}
      <tbody>
        {rows.map(([name = '', ...values], row) => (
          <tr key={row}>
            <th scope="row">{name}</th>
            {values.map((value, k) => (
              <td key={k}>{value}</td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  )
}
