/**
 * Paper, ink and a little colour: amber only for zones, one colour each for front and hind paws, blue-grey for the
 * board. Dark ground where the reader's system asks for it; always paper in print.
 */
const light = `
  --paper: #fbfaf5; --card: #ffffff; --ink: #1f302c; --muted: #5d6d66; --line: #dcdad0; --faint: #eceade;
  --zone: #d9991f; --zone-band: #f7edd6; --zone-ink: #86610f; --front: #b64d27; --hind: #14786c;
  --board: #5478a3; --fall: #e7edf0; --dog: #c3c8be; --plank: #40564f;`
const dark = `
  --paper: #111917; --card: #17211e; --ink: #e5eae2; --muted: #98a69f; --line: #2c3935; --faint: #1e2926;
  --zone: #d9a23a; --zone-band: #2a2618; --zone-ink: #d8b266; --front: #ec8a61; --hind: #4dbbaa;
  --board: #8db0d8; --fall: #1b272b; --dog: #46534d; --plank: #9bb0a7;`

const text = `
  * { box-sizing: border-box; }
  body { margin: 0; background: var(--paper); color: var(--ink); line-height: 1.45; font-size: 16px;
    font-family: "Source Sans 3", "Segoe UI", system-ui, -apple-system, "Helvetica Neue", Arial, sans-serif;
    font-variant-numeric: tabular-nums; -webkit-print-color-adjust: exact; print-color-adjust: exact; }
  main { max-width: 1080px; margin: 0 auto; padding: 0 28px 40px; }
  header { display: flex; gap: 18px; align-items: baseline; padding: 18px 0 14px; border-bottom: 1px solid var(--line); color: var(--muted); }
  header b { color: var(--ink); font-size: 17px; }
  h2 { font-size: 15px; font-weight: 600; color: var(--muted); margin: 0 0 10px; }
  h3 { font-size: 14px; font-weight: 400; color: var(--muted); margin: 0 0 6px; }
  p { margin: 0; }
  section { margin-top: 30px; }
  ul { margin: 0; padding: 0; list-style: none; }
  li + li { margin-top: 6px; }
  footer { margin-top: 30px; padding-top: 14px; border-top: 1px solid var(--line); color: var(--muted); font-size: 13px; overflow-wrap: anywhere; }
  .quiet-text { color: var(--muted); font-size: 13px; margin-top: 8px; }`

const answers = `
  .top { display: grid; grid-template-columns: minmax(0, 5fr) minmax(0, 6fr); gap: 40px; margin-top: 24px; }
  .answers { display: flex; flex-direction: column; }
  .answers:has(> :nth-child(3)) { justify-content: space-between; }
  .answers:not(:has(> :nth-child(3))) .answer + .answer { margin-top: 34px; padding-top: 26px; }
  .drop .top { margin-top: 8px; }
  .answer + .answer { margin-top: 18px; padding-top: 18px; border-top: 1px solid var(--line); }
  .answer p { color: var(--muted); }
  .answer .lead { display: block; }
  .answer .margin { white-space: nowrap; }
  .answer strong { font-size: 25px; line-height: 1.25; letter-spacing: -0.01em; color: var(--ink); font-weight: 650; }
  .answer .more { margin-top: 4px; font-size: 14.5px; }
  .answer .scale { margin-top: 8px; max-width: 320px; }
  .cards { display: grid; grid-template-columns: repeat(3, minmax(0, 1fr)); gap: 14px; }
  .card { background: var(--card); border: 1px solid var(--line); border-radius: 12px; padding: 14px 16px; }
  .card .word { display: flex; align-items: center; gap: 9px; font-size: 19px; font-weight: 650; line-height: 1.25; }
  .card .scale { margin: 10px 0 4px; max-width: 300px; }
  .card .facts-text { font-size: 14.5px; color: var(--muted); margin-top: 6px; }
  .shape { width: 20px; height: 20px; flex: none; fill: none; stroke-linecap: round; stroke-linejoin: round; }
  .shape .full { fill: var(--ink); } .shape .cut { stroke: var(--card); stroke-width: 2.2; }
  .shape .ring { stroke: var(--ink); stroke-width: 2; } .shape .broken { stroke-dasharray: 4.2 4.2; }`

const drawings = `
  svg { display: block; width: 100%; height: auto; overflow: visible; }
  svg text { fill: var(--ink); font-size: 13px; font-family: inherit; }
  svg .quiet { fill: var(--muted); }
  .scale text { fill: var(--muted); font-size: 12px; } .scale .small { font-size: 9.5px; }
  .axis { stroke: var(--line); stroke-width: 1.5; } .border { stroke: var(--ink); stroke-width: 1.5; }
  .interval { stroke: var(--ink); stroke-opacity: 0.28; stroke-width: 10; stroke-linecap: round; }
  .value { fill: var(--ink); } .scale .zone { fill: var(--zone); }
  .plank-drawing .ground { stroke: var(--line); stroke-width: 3; stroke-linecap: round; }
  .plank-drawing .base { fill: var(--faint); stroke: var(--line); }
  .plank-drawing .zone { fill: var(--zone); } .plank-drawing .middle { fill: var(--plank); }
  .plank-drawing .outline { fill: none; stroke: var(--muted); stroke-dasharray: 3 4; stroke-opacity: 0.7; }
  .plank-drawing .interval { stroke-width: 5; stroke-opacity: 0.45; stroke-linecap: butt; }
  .plank-drawing .interval.front { stroke: var(--front); } .plank-drawing .front-dot { fill: var(--front); stroke: var(--paper); stroke-width: 1.5; }
  .plank-drawing .body-mark { fill: var(--ink); } .plank-drawing .axis-dot { fill: var(--paper); stroke: var(--ink); }
  .measure-line { fill: none; stroke: var(--muted); }
  .plank-chart { min-width: 680px; } .wide { overflow-x: auto; }
  .fall { fill: var(--fall); } .zone-band { fill: var(--zone-band); } .zone-name { fill: var(--zone-ink); }
  .plank-chart .edge { stroke: var(--line); } .pivot-line { stroke: var(--muted); stroke-dasharray: 1.5 5; stroke-linecap: round; stroke-width: 1.5; }
  .dog-band { fill: var(--dog); fill-opacity: 0.6; } .lead-line { fill: none; stroke: var(--muted); stroke-width: 1.2; }
  .paw { stroke-width: 1.8; } .paw.front { fill: var(--front); stroke: var(--front); }
  .paw.hind { fill: var(--card); stroke: var(--hind); } .paw.unknown { fill: var(--muted); stroke: var(--muted); }
  .tilt { fill: none; stroke: var(--board); stroke-width: 2; stroke-linejoin: round; }
  .sound { stroke: var(--muted); stroke-width: 2; stroke-opacity: 0.75; fill: none; }
  .span { stroke: var(--muted); fill: none; } .span-label { fill: var(--ink); font-size: 12.5px; }
  .event-line { stroke: var(--ink); fill: none; stroke-width: 1.3; } .event-label { fill: var(--ink); }
  svg .event-word { fill: var(--paper); font-weight: 600; } .event-interval { fill: var(--ink); fill-opacity: 0.12; }
  .legend { display: flex; flex-wrap: wrap; gap: 4px 22px; font-size: 14px; color: var(--muted); margin-bottom: 8px; }
  .key { display: inline-flex; align-items: center; gap: 8px; } .key svg { width: 24px; } .key .fall { stroke: var(--line); }`

const stills = `
  .stills { display: grid; grid-template-columns: repeat(2, minmax(0, 1fr)); gap: 16px; } .top .plank-drawing { margin-top: 18px; }
  .still { margin: 0; } .still svg { border-radius: 10px; overflow: hidden; background: var(--faint); }
  .still polyline, .still circle, .still path { vector-effect: non-scaling-stroke; fill: none; stroke-linecap: round; }
  .still .casing { stroke: #10201c; stroke-opacity: 0.55; stroke-width: 3.4; }
  .still .edge-zone { stroke: #ffc247; stroke-width: 1.6; } .still .edge-middle { stroke: #ffffff; stroke-width: 1.6; }
  .still .edge-dog { stroke: #ffffff; stroke-width: 1.2; stroke-linejoin: round; }
  .still .border { stroke: #ffffff; stroke-width: 1.6; }
  .still .pivot-mark { fill: #ffffff; stroke: #10201c; stroke-opacity: 0.6; }
  .still .paw-casing { stroke: #10201c; stroke-opacity: 0.6; stroke-width: 4; }
  .still .paw-front { fill: #f0794a; stroke: #ffffff; stroke-width: 1.4; } .still .paw-hind { stroke: #5fe0cd; stroke-width: 2; }
  .still .paw-unknown { stroke: #ffffff; stroke-width: 1.4; stroke-dasharray: 2 2; }
  figcaption { margin-top: 7px; font-size: 14px; line-height: 1.35; } figcaption b { display: block; font-weight: 600; }
  .facts { color: var(--muted); white-space: pre-wrap; }`

const lists = `
  dl { margin: 0; } dl div { display: grid; grid-template-columns: minmax(0, 2fr) minmax(0, 5fr); gap: 20px; padding: 7px 0; border-top: 1px solid var(--line); }
  dt { font-weight: 600; } dd { margin: 0; }
  table { border-collapse: collapse; width: 100%; font-size: 14.5px; }
  tr { border-top: 1px solid var(--line); } th { text-align: left; font-weight: 400; } th, td { padding: 5px 0; vertical-align: baseline; }
  td { text-align: right; white-space: nowrap; padding-left: 18px; } td:last-child { color: var(--muted); }
  .cautions { color: var(--muted); font-size: 14.5px; } .cautions ul { columns: 2; column-gap: 40px; } .cautions li { break-inside: avoid; }`

const narrow = `
  @media (max-width: 720px) {
    main { padding: 0 16px 28px; }
    .top, .cards, .stills { grid-template-columns: minmax(0, 1fr); }
    .top { gap: 26px; } .cautions ul { columns: 1; } dl div { grid-template-columns: minmax(0, 1fr); gap: 2px; }
    td:last-child { white-space: normal; }
  }`

const print = `
  @page { size: A4; margin: 9mm 12mm; }
  @media print {
    body { font-size: 9.2pt; line-height: 1.32; background: none; } main { max-width: none; padding: 0; }
    header { padding: 0 0 6px; } section { margin-top: 11px; break-inside: avoid; } h2 { font-size: 9.2pt; margin-bottom: 4px; }
    .top { gap: 24px; margin-top: 9px; grid-template-columns: minmax(0, 1fr) minmax(0, 1fr); }
    .top .plank-drawing { margin-top: 4px; } .answer strong { font-size: 14pt; } .answer .more { font-size: 8.6pt; }
    .answer + .answer { margin-top: 8px; padding-top: 8px; }
    .card { padding: 7px 10px; } .card h3 { margin-bottom: 2px; } .card .word { font-size: 11pt; } .card .scale { margin: 5px 0 2px; }
    .shape { width: 16px; height: 16px; } .card .facts-text { margin-top: 3px; }
    h3, .card .facts-text, figcaption, table, .cautions, .legend { font-size: 8.4pt; } .legend { margin-bottom: 4px; }
    .plank-chart { min-width: 0; } th, td { padding: 2px 0; } dl div { padding: 4px 0; }
    footer { margin-top: 12px; padding-top: 6px; font-size: 8pt; } .quiet-text { font-size: 8pt; margin-top: 4px; }
  }`

export const pageStyle = `
  :root { color-scheme: light dark; ${light} }
  @media (prefers-color-scheme: dark) { :root { ${dark} } }
  @media print { :root { ${light} --paper: #ffffff; } }
  ${text}${answers}${drawings}${stills}${lists}${narrow}${print}
`
