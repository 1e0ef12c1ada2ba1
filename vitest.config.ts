import { defineConfig } from 'vitest/config'

/**
 * Two projects: `unit` computes; `integration` (files named *.integration.test.ts) starts programs or measures whole clips.
 * `npm test` runs both, `npm run check` the first.
 */
export default defineConfig({
  test: {
    // A CommonJS package is what its module.exports is. Guessing otherwise hangs on a package that exports `then`.
    deps: { interopDefault: false },
    testTimeout: 60_000,
    hookTimeout: 60_000,
    reporters: ['default', './tests/report/aloud-reporter.ts'],
    projects: [
      {
        extends: true,
        test: { name: 'unit', include: ['tests/**/*.test.ts'], exclude: ['tests/**/*.integration.test.ts'] },
      },
      {
        extends: true,
        test: { name: 'integration', include: ['tests/**/*.integration.test.ts'], testTimeout: 300_000 },
      },
    ],
  },
})
