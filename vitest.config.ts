import { createRequire } from 'node:module'
import { defineConfig } from 'vitest/config'

const { path: ffmpegOfTheRegistry } = createRequire(import.meta.url)('@ffmpeg-installer/ffmpeg') as { path: string }

/**
 * Two projects: `unit` computes; `integration` (files named *.integration.test.ts) starts programs or measures whole clips.
 * `npm test` runs both, `npm run check` the first.
 */
export default defineConfig({
  test: {
    // A CommonJS package is what its module.exports is. Guessing otherwise hangs on a package that exports `then`.
    deps: { interopDefault: false },
    // A busy machine may take its time: only what hangs is ended.
    expect: { poll: { timeout: 60_000 } },
    testTimeout: 60_000,
    hookTimeout: 60_000,
    // Much of a test is waiting for another program: two of them share two cores well; with three the run took longer.
    maxWorkers: '100%',
    // Threads that collect garbage beside them take the time of those two.
    execArgv: ['--single-threaded-gc'],
    reporters: ['default', './tests/report/aloud-reporter.ts'],
    projects: [
      {
        extends: true,
        test: {
          name: 'unit',
          include: ['tests/**/*.test.{ts,tsx}'],
          exclude: ['tests/**/*.integration.test.ts'],
          // Loading the sources anew for every file took longer than the tests: files of one process share them, and a
          // test puts back what it changes. A file runs in whatever company, so it must not rely on being first.
          isolate: false,
          pool: 'forks',
        },
      },
      {
        extends: true,
        test: {
          name: 'integration',
          include: ['tests/**/*.integration.test.ts'],
          globalSetup: ['./tests/app/build-window-once.ts', './tests/app/start-browser-once.ts'],
          // The same ffmpeg on every machine, and one that starts in a tenth of the time that a distribution's takes; what
          // differs between them is tested with each that there is.
          env: { TIPHOLD_FFMPEG: process.env['TIPHOLD_FFMPEG'] ?? ffmpegOfTheRegistry },
          // As above: files of one process share the sources, and one measured ride.
          isolate: false,
          pool: 'forks',
          // A busy machine may take its time: only what hangs is ended.
          testTimeout: 300_000,
          hookTimeout: 300_000,
        },
      },
    ],
  },
})
