/** Our sign: a plank that tips over its foot, the two zones in amber. */
export function Mark() {
  return (
    <svg className="mark" viewBox="0 0 32 20" aria-hidden="true">
      <path d="M16 9.5 L21 19 L11 19 Z" fill="currentColor" />
      <g transform="rotate(-14 16 8)">
        <rect x="1" y="6.4" width="30" height="3.4" rx="1" fill="currentColor" />
        <rect x="1" y="6.4" width="7.5" height="3.4" rx="1" fill="var(--zone)" />
        <rect x="23.5" y="6.4" width="7.5" height="3.4" rx="1" fill="var(--zone)" />
      </g>
    </svg>
  )
}
