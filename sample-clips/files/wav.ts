import { writeFile } from 'node:fs/promises'

/** Writes one channel of sound, values from -1 to 1, as a 16-bit WAVE file. */
export async function writeWav(path: string, wave: Float32Array, rateHz: number): Promise<void> {
  const file = Buffer.alloc(44 + 2 * wave.length)
  file.write('RIFF', 0)
  file.writeUInt32LE(36 + 2 * wave.length, 4)
  file.write('WAVEfmt ', 8)
  file.writeUInt32LE(16, 16)
  file.writeUInt16LE(1, 20)
  file.writeUInt16LE(1, 22)
  file.writeUInt32LE(rateHz, 24)
  file.writeUInt32LE(2 * rateHz, 28)
  file.writeUInt16LE(2, 32)
  file.writeUInt16LE(16, 34)
  file.write('data', 36)
  file.writeUInt32LE(2 * wave.length, 40)
  wave.forEach((value, i) => file.writeInt16LE(Math.round(32767 * Math.max(-1, Math.min(1, value))), 44 + 2 * i))
  await writeFile(path, file)
}
