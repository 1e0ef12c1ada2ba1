import cv from '@techstark/opencv-js'

/**
 * OpenCV as an outside reference, once it is ready; `await visionReady()` before using `cv`.
 * `cv` itself must never be awaited or returned from an async function: it has a `then` that answers with itself.
 */
export function visionReady(): Promise<void> {
  return new Promise((resolve) => {
    // Its classes appear when its program has started, which may be before anybody asks.
    if ((cv as { Mat?: unknown }).Mat !== undefined) resolve()
    else cv.onRuntimeInitialized = () => resolve()
  })
}

export { cv }
