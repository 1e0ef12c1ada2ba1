import { Settings } from 'lucide-react'
import { Link, NavLink } from 'react-router'
import { useJobs } from '../host/use-call.ts'
import { Mark } from './mark.tsx'
import { timeLeft } from './time-left.ts'

const PLACES = [
  { to: '/rides', name: 'Rides' },
  { to: '/dogs', name: 'Dogs' },
  { to: '/boards', name: 'Boards' },
  { to: '/packs', name: 'Coaching' },
] as const

/** The bar over every screen: where one can go, and whether something is being measured. */
export function ShellBar() {
  return (
    <header className="shell-bar">
      <Link to="/" className="wordmark">
        <Mark />
        Tiphold
      </Link>
      <nav aria-label="Places">
        <NavLink to="/" end>
          Start
        </NavLink>
        {PLACES.map(({ to, name }) => (
          <NavLink key={to} to={to}>
            {name}
          </NavLink>
        ))}
      </nav>
      <RunningWork />
      <NavLink to="/settings" className="to-settings">
        <Settings aria-hidden="true" />
        Settings
      </NavLink>
    </header>
  )
}

function RunningWork() {
  const jobs = useJobs()
  const running = jobs.find(({ state }) => state.kind === 'running')
  const waiting = jobs.filter(({ state }) => state.kind === 'waiting').length
  if (running?.state.kind !== 'running') return null
  const left = timeLeft(running.state.leftS)
  return (
    <Link to="/" className="running-work">
      <span className="pulse" aria-hidden="true" />
      Measuring
      {left === null ? null : `, ${left}`}
      {waiting === 0 ? null : `, ${waiting} more waiting`}
    </Link>
  )
}
