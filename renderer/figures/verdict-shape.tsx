import type { VerdictCard } from '../../analysis/words/verdict-cards.ts'

/** A verdict as a shape that differs without colour: full disc with a tick, ring with a bar, broken ring. */
export function VerdictShape({ shape }: { readonly shape: VerdictCard['shape'] }) {
  return (
    <svg className="verdict-shape" width="20" height="20" viewBox="0 0 20 20" aria-hidden="true">
      {shape === 'sure' ? (
        <>
          <circle className="shape-disc" cx="10" cy="10" r="9" />
          <path className="shape-cut" d="M5.5,10.5 L9,13.8 L14.5,7" />
        </>
      ) : (
        <>
          <circle className={`shape-ring ${shape}`} cx="10" cy="10" r="8" />
          {shape === 'against' ? <path className="shape-ring against" d="M5.5,10 H14.5" /> : null}
        </>
      )}
    </svg>
  )
}
