import type { PictureSize } from '../contract/picture-paths.ts'

export interface PictureRequest {
  readonly clipId: string
  readonly size: PictureSize
  readonly index: number
}

const PICTURE_PATH = /^\/pictures\/([A-Za-z0-9_-]{1,64})\/(frame|full|small)\/(0|[1-9]\d{0,7})$/

/**
 * What a path below a host's origin asks for, as `picturePath` writes it; null for anything else. Only plain ids pass, so
 * nothing that leads to a file can be asked for: no dots, no slashes, nothing encoded.
 */
export function pictureRequest(path: string): PictureRequest | null {
  const [, clipId, size, index] = PICTURE_PATH.exec(path) ?? []
  if (clipId === undefined || index === undefined) return null
  return { clipId, size: size as PictureSize, index: Number(index) }
}

/** A frame of a clip never changes: its id belongs to the file's content. */
export const PICTURE_CACHING = 'private, max-age=86400, immutable'
