import type { Reporter, TestCase, TestModule } from 'vitest/node'
import { mayBeSkippedAnywhere } from './needs.ts'

/**
 * Says aloud which tests were skipped and why, and closes with one plain line: `N passed, N failed, N skipped`.
 * In an automatic run (CI=true) a skipped test fails the run, unless such a machine cannot have what the test needs.
 */
export default class AloudReporter implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], unhandledErrors: readonly unknown[]): void {
    const tests = modules.flatMap((module) => [...module.children.allTests()])
    const states = tests.map((test) => test.result().state)
    const brokenFiles = modules.filter((module) => module.errors().length > 0).length
    const skips = tests.flatMap(skipReason)
    const strict = process.env['CI'] === 'true'
    const unexcused = strict ? skips.filter(({ why }) => !mayBeSkippedAnywhere(why)) : []

    for (const { name, why } of skips) console.log(`skipped: ${name} because ${why}`)
    for (const { name } of unexcused)
      console.log(`failed: ${name} was skipped, though an automatic run can have it run`)
    if (unexcused.length > 0) process.exitCode = 1

    const passed = states.filter((state) => state === 'passed').length
    const failed = states.filter((state) => state === 'failed').length + brokenFiles + unhandledErrors.length
    const skipped = skips.length - unexcused.length
    const closing = `${passed} passed, ${failed + unexcused.length} failed`
    console.log(skipped === 0 ? closing : `${closing}, ${skipped} skipped`)
  }
}

function skipReason(test: TestCase): { name: string; why: string }[] {
  const result = test.result()
  if (result.state !== 'skipped') return []
  return [{ name: test.fullName, why: result.note ?? 'of a reason that was not given' }]
}
