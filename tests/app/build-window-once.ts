import { buildWindow } from '../../main/hosts/build/build-window.ts'

/** Before all tests that start programs: the window is built once, unless its sources are the same as last time. */
export default function setup(): Promise<void> {
  return buildWindow()
}
