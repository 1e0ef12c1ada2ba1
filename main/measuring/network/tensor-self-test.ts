import type * as Core from '@tensorflow/tfjs-core'

/**
 * Runs a tiny network whose numbers were worked by hand: a 2 x 2 convolution, a cut at zero, an enlargement, the two
 * largest values. Returns what is wrong, or null.
 */
export async function tensorSelfTest(core: typeof Core): Promise<string | null> {
  const answer = core.tidy(() => {
    const picture = core.tensor4d([1, 2, 3, 4, 5, 6, 7, 8, 9], [1, 3, 3, 1])
    // In the first place: -1 x 1 + 1 x 2 + 2 x 4 = 9. All four: 9, 11, 15, 17.
    const kernel = core.tensor4d([-1, 1, 2, 0], [2, 2, 1, 1])
    const less = core.sub(core.conv2d(picture, kernel, 1, 'valid'), core.scalar(10))
    const cut: Core.Tensor4D = core.relu(core.reshape(less, [1, 2, 2, 1]))
    const enlarged = core.image.resizeBilinear(cut, [3, 3], true)
    const { values, indices } = core.topk(core.reshape(enlarged, [9]), 2)
    const places = core.cast(indices, 'float32')
    return core.concat([core.reshape(cut, [4]), core.reshape(enlarged, [9]), values, places])
  })
  try {
    const numbers = [...(await answer.data())]
    const right = numbers.length === WANTED.length && numbers.every((value, i) => Math.abs(value - WANTED[i]!) < 1e-4)
    return right ? null : `it computed ${numbers.join(', ')} where ${WANTED.join(', ')} is right`
  } finally {
    answer.dispose()
  }
}

const WANTED = [...[0, 1, 5, 7], ...[0, 0.5, 1, 2.5, 3.25, 4, 5, 6, 7], ...[7, 6], ...[8, 7]]
