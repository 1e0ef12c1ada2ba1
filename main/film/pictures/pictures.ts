import type { Outcome } from '../../contract/outcome.ts'
import type { PictureSize } from '../../contract/picture-paths.ts'

/** The pictures of the library's clips, as the window fetches them; `picturePath` says what each size is. */
export interface Pictures {
  /** One frame as a JPEG file; `index` counts frames in display order. A request that is no longer wanted is aborted. */
  jpeg(clipId: string, size: PictureSize, index: number, signal: AbortSignal): Promise<Outcome<Uint8Array>>
}
