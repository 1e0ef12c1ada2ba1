import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, test, vi } from 'vitest'
import { addCommand } from '../../../main/cli/add-command.ts'
import type { AddCommand } from '../../../main/cli/command.ts'
import { openLibrary } from '../../../main/library/open-library.ts'

vi.setConfig({ testTimeout: 300_000 })

const CLIPS = join(import.meta.dirname, '../../../sample-clips/clips')

test('an evening is taken in once, measured, kept with dog, board and a word on its marks; what is no clip is told', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'evening-'))
  try {
    const noClip = join(folder, 'notes.mp4')
    await writeFile(noClip, 'These are my notes.')
    const libraryFolder = join(folder, 'library')
    const clipPaths = [join(CLIPS, 'wren-hold.mp4'), noClip]
    const command: AddCommand = { kind: 'add', clipPaths, dog: 'Wren', board: 'Meadow', libraryFolder, progress: false }
    const remarks: string[] = []
    const progress: string[] = []
    const tools = {
      signal: new AbortController().signal,
      onProgress: ({ doing }: { doing: string }) => progress.push(doing),
      remark: (line: string) => remarks.push(line),
    }
    const first = await addCommand(command, tools)
    expect(first.exitCode).toBe(3)
    expect(first.lines.join('\n')).toMatch(/^wren-hold\.mp4: 1 ride measured, marks found by the program$/m)
    expect(first.lines.join('\n')).toMatch(/^notes\.mp4: /m)
    expect(remarks.join('\n')).toContain('Wren is a new dog')
    expect(remarks.join('\n')).toContain('Meadow is a new board')
    expect(progress.some((doing) => doing.includes('of 2 clips done, measuring 1'))).toBe(true)

    const library = await openLibrary(libraryFolder)
    const [card, ...others] = library.rides.cards()
    expect(others).toEqual([])
    expect(card).toMatchObject({ dogName: 'Wren', boardName: 'Meadow', leaving: 'after-ground' })
    expect(card?.note).toContain('Marks found by the program')
    // While the library is open here, the command says so and changes nothing.
    const busy = await addCommand(command, tools)
    expect(busy.exitCode).toBe(2)
    expect(busy.complaint).toMatch(/is open in another Tiphold.*: close it there first/)
    await library.close()

    const again = await addCommand({ ...command, clipPaths: clipPaths.slice(0, 1), dog: 'wren' }, tools)
    expect(again).toEqual({
      exitCode: 0,
      lines: ['wren-hold.mp4: already in the library with 1 ride'],
      complaint: null,
    })
  } finally {
    await rm(folder, { recursive: true, force: true })
  }
})
