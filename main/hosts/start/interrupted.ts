/** A second signal that follows at once is the same key press, handed on by a program between it and us, ms. */
const SAME_PRESS_MS = 500

/** Settles at Ctrl-C or when the system asks this program to end; a second time ends it at once. */
export function untilInterrupted(): Promise<void> {
  return new Promise((resolve) => {
    let firstMs: number | null = null
    for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) {
      process.on(signal, () => {
        firstMs ??= performance.now()
        if (performance.now() - firstMs > SAME_PRESS_MS) process.exit(130)
        resolve()
      })
    }
  })
}
