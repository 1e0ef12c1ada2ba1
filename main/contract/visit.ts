/**
 * What the loopback host gives to the browser of a first visit, behind the `#` of an address. Pages of its origin alone
 * hold it: other than a cookie, no other port of this machine is ever sent it.
 */
export interface Visit {
  /** Goes along with every call and every file, in the header `VISIT_HEADER`. */
  readonly askKey: string
  /** Stands in the path of what a browser fetches without headers, pictures and happenings; it opens nothing else. */
  readonly viewKey: string
}

export const VISIT_HEADER = 'x-tiphold-visit'

/** A visit as it stands in an address, `#visit=KEY.KEY`. */
export function visitFragment({ askKey, viewKey }: Visit): string {
  return `#visit=${askKey}.${viewKey}`
}

/** The visit that stands behind the `#` of an address; null if none does. */
export function visitOf(fragment: string): Visit | null {
  const [, askKey, viewKey] = /^#visit=([\w-]{43})\.([\w-]{43})$/.exec(fragment) ?? []
  return askKey === undefined || viewKey === undefined ? null : { askKey, viewKey }
}

/** The path under which a visitor may look at what lies at `path`, as in `/view/KEY/happenings`. */
export function viewPath(viewKey: string, path: string): string {
  return `/view/${viewKey}${path}`
}
