/** A package that runs with Tiphold, as the lock file knows it. */
export interface RuntimePackage {
  readonly name: string
  readonly version: string
  /** As the package states it; null where it states nothing. */
  readonly licence: string | null
  /** Optional packages run where npm could install them. */
  readonly optional: boolean
  /** Its folder below the project's root. */
  readonly folder: string
}

interface LockedPackage {
  readonly version?: string
  readonly license?: string
  readonly dev?: boolean
  readonly optional?: boolean
  readonly devOptional?: boolean
}

/** The packages that a user's copy of Tiphold runs, sorted by name; what only developers need is left out. */
export function runtimePackages(lockText: string): RuntimePackage[] {
  const { packages } = JSON.parse(lockText) as { packages: Record<string, LockedPackage> }
  return Object.entries(packages)
    .filter(([folder, locked]) => folder !== '' && locked.dev !== true)
    .map(([folder, locked]) => ({
      name: folder.slice(folder.lastIndexOf('node_modules/') + 'node_modules/'.length),
      version: locked.version ?? '',
      licence: locked.license ?? null,
      optional: locked.optional === true || locked.devOptional === true,
      folder,
    }))
    .sort((a, b) => (a.folder < b.folder ? -1 : 1))
}
