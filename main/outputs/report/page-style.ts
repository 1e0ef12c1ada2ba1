/** How a page's words and blocks look; its colours and figures are the window's. Paper in print, whatever the screen is. */
const text = `
  * { box-sizing: border-box; }
  body { margin: 0; background: var(--paper); color: var(--ink); line-height: 1.45; font-size: 16px;
    font-family: "Figtree", "Segoe UI", system-ui, -apple-system, "Helvetica Neue", Arial, sans-serif;
    font-variant-numeric: tabular-nums; -webkit-print-color-adjust: exact; print-color-adjust: exact; }
  main { max-width: 1080px; margin: 0 auto; padding: 0 28px 40px; }
  header { display: flex; gap: 18px; align-items: baseline; padding: 18px 0 14px; border-bottom: 1px solid var(--line); color: var(--ink-soft); }
  header b { font-size: 15px; font-weight: 600; }
  h1 { margin: 0; color: var(--ink); font-size: 21px; font-weight: 660; line-height: 1.25; letter-spacing: -0.01em; overflow-wrap: anywhere; }
  h2 { font-size: 15px; font-weight: 600; color: var(--ink-soft); margin: 0 0 10px; }
  h3 { font-size: 14px; font-weight: 400; color: var(--ink-soft); margin: 0 0 6px; }
  p, ul, dl, dd, figure { margin: 0; padding: 0; }
  ul { list-style: none; } li + li { margin-top: 6px; }
  .blocks { display: grid; gap: 28px; grid-template-columns: minmax(0, 1fr); align-content: start; }
  main > .blocks { margin-top: 24px; }
  section > .blocks, .column > .blocks { gap: 14px; }
  footer { margin-top: 30px; padding-top: 14px; border-top: 1px solid var(--line); color: var(--ink-soft); font-size: 13px; overflow-wrap: anywhere; }
  .soft { color: var(--ink-soft); font-size: 14.5px; }
  p.soft { font-size: 13.5px; }`

const blocks = `
  .columns { display: grid; gap: 40px; }
  .answer + .answer { padding-top: 16px; border-top: 1px solid var(--line); }
  .answer p { color: var(--ink-soft); }
  .answer .lead { display: block; }
  .answer .margin { white-space: nowrap; }
  .answer strong { font-size: 24px; line-height: 1.25; letter-spacing: -0.01em; color: var(--ink); font-weight: 660; }
  .answer .more { margin-top: 4px; font-size: 14.5px; }
  .answer svg { margin-top: 8px; max-width: 320px; }
  .cards { display: grid; grid-template-columns: repeat(auto-fit, minmax(220px, 1fr)); gap: 14px; }
  .card { background: var(--paper-raised); border: 1px solid var(--line); border-radius: 10px; padding: 14px 16px; }
  .card .word { display: flex; align-items: center; gap: 9px; font-size: 19px; font-weight: 660; line-height: 1.25; }
  .card .word svg { flex: none; width: 20px; height: 20px; }
  .card > svg { margin: 10px 0 4px; max-width: 300px; }
  .card .text { font-size: 14.5px; color: var(--ink-soft); margin-top: 6px; }
  svg { display: block; width: 100%; height: auto; overflow: visible; }
  svg text { font-family: inherit; }
  .wide { overflow-x: auto; } .wide > .ride-chart-figure { min-width: 680px; }
  .still-picture { border-radius: 8px; overflow: hidden; background: var(--paper-sunk); }
  .legend { display: flex; flex-wrap: wrap; gap: 4px 22px; font-size: 14px; color: var(--ink-soft); }
  .legend span { display: inline-flex; align-items: center; gap: 8px; } .legend svg { width: 24px; }
  figcaption { margin-top: 7px; font-size: 14px; line-height: 1.35; } figcaption b { display: block; font-weight: 600; }
  figcaption span { color: var(--ink-soft); white-space: pre-wrap; }
  dl div { display: grid; grid-template-columns: minmax(0, 2fr) minmax(0, 5fr); gap: 20px; padding: 7px 0; border-top: 1px solid var(--line); }
  dt { font-weight: 600; }
  table { border-collapse: collapse; width: 100%; font-size: 14.5px; }
  tr { border-top: 1px solid var(--line); } th { text-align: left; font-weight: 400; } thead th { color: var(--ink-soft); }
  th, td { padding: 5px 18px 5px 0; vertical-align: baseline; } td:last-child { color: var(--ink-soft); padding-right: 0; }
  ul.soft { columns: 2; column-gap: 40px; } ul.soft li { break-inside: avoid; }`

const narrow = `
  @media (max-width: 720px) {
    main { padding: 0 16px 28px; }
    .columns { grid-template-columns: minmax(0, 1fr) !important; gap: 26px; }
    ul.soft { columns: 1; } dl div { grid-template-columns: minmax(0, 1fr); gap: 2px; }
  }`

const print = `
  @page { size: A4; margin: 10mm 12mm; }
  @media print {
    :root { color-scheme: light; --paper: #ffffff; }
    body { font-size: 9.4pt; line-height: 1.34; } main { max-width: none; padding: 0; }
    header { padding: 0 0 6px; } h1 { font-size: 14pt; } header b { font-size: 9.4pt; } main > .blocks { gap: 12px; margin-top: 10px; } section > .blocks, .column > .blocks { gap: 7px; }
    section, .card, figure, tr, dl div { break-inside: avoid; } h2 { font-size: 9.4pt; margin-bottom: 4px; }
    .columns { gap: 24px; } .answer strong { font-size: 14pt; } .answer .more { font-size: 8.8pt; }
    .answer + .answer { padding-top: 8px; }
    .card { padding: 7px 10px; } .card h3 { margin-bottom: 2px; } .card .word { font-size: 11pt; } .card > svg { margin: 5px 0 2px; }
    .card .text { margin-top: 3px; }
    h3, .card .text, figcaption, table, .soft, .legend { font-size: 8.6pt; } p.soft { font-size: 8.2pt; }
    .wide > .ride-chart-figure { min-width: 0; } th, td { padding-block: 2px; } dl div { padding: 4px 0; }
    footer { margin-top: 12px; padding-top: 6px; font-size: 8.2pt; }
  }`

export const pageStyle = `${text}${blocks}${narrow}${print}`
