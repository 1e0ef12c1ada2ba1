export type PictureSize = 'frame' | 'full' | 'small'

/**
 * The path of a picture; a `Client` gives the address under which its own host shows it. Only ids and numbers go in, never a file's name.
 *
 * - `/pictures/CLIP/frame/INDEX` JPEG of the frame at the size for stepping (at most 1280 px wide)
 * - `/pictures/CLIP/full/INDEX` the frame at full size, for marking; may take a second
 * - `/pictures/CLIP/small/INDEX` about 160 px wide, for strips and lists
 */
export function picturePath(clipId: string, frameIndex: number, size: PictureSize): string {
  return `/pictures/${encodeURIComponent(clipId)}/${size}/${frameIndex}`
}
