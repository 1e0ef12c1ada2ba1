import type { Library } from '../library/library.ts'
import type { MeasuringService } from './measuring-service.ts'
import { SAMPLES } from './samples-list.ts'
import type { SamplesService } from './samples-service.ts'

/**
 * In a library that holds nothing yet: takes the first sample clip in and begins to measure it, so that there is a ride
 * to open. Measuring goes on in the background and ends with the program like any other.
 */
export async function prepareFirstSample(
  library: Library,
  samples: SamplesService,
  measuring: MeasuringService,
): Promise<void> {
  const shelves = [library.clips, library.dogs, library.boards]
  if (shelves.some((shelf) => shelf.list().length > 0)) return
  const taken = await samples.takeIn(SAMPLES[0]!.name)
  // Without it there is nothing to measure; the start screen offers what is there.
  if (taken.ok) await measuring.handlers['measuring.start']({ clipId: taken.value.id })
}
