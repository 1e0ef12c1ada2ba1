import { readFile, readlink } from 'node:fs/promises'

/** What tells one running process from all others, also from a later one that got its number. */
export interface ProcessIdentity {
  readonly pid: number
  /** This start of this system, and which process numbers mean the same; null where the system does not say. */
  readonly system?: string | null | undefined
  /** When the process started, in the system's own count; null where the system does not say. */
  readonly startedAt?: string | null | undefined
}

/** This process. */
export function thisProcess(): Promise<ProcessIdentity> {
  return identityOf(process.pid)
}

/** A process of this system. Only Linux says more than its number. */
export async function identityOf(pid: number): Promise<ProcessIdentity> {
  return { pid, system: await thisSystem(), startedAt: await startOf(pid) }
}

/** Whether a process, if it still runs, runs where we could see it. */
export async function isSameSystem({ system, startedAt }: ProcessIdentity): Promise<boolean> {
  return system != null && startedAt != null && system === (await thisSystem())
}

/** Whether that process runs, be it suspended. Only asked of one of this system. */
export async function isSameProcess({ pid, startedAt }: ProcessIdentity): Promise<boolean> {
  return startedAt != null && (await startOf(pid)) === startedAt
}

async function thisSystem(): Promise<string | null> {
  try {
    const boot = await readFile('/proc/sys/kernel/random/boot_id', 'utf8')
    return `${boot.trim()} ${await readlink('/proc/self/ns/pid')}`
  } catch {
    return null
  }
}

/** Field 22 of /proc/PID/stat, see proc(5); the name in field 2 may hold anything, so it is counted from its end. */
async function startOf(pid: number): Promise<string | null> {
  try {
    const stat = await readFile(`/proc/${pid}/stat`, 'utf8')
    const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ')
    // A zombie has ended; only its parent has not been told.
    return fields[0] === 'Z' || fields[0] === 'X' ? null : (fields[19] ?? null)
  } catch {
    return null
  }
}
