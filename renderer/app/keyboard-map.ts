/** One thing that keys do. Each entry of `keys` does it alone; keys joined with + are pressed together. */
export interface KeyUse {
  readonly keys: readonly string[]
  readonly does: string
}

/** The keys of one part of the program. */
export interface KeyGroup {
  readonly where: string
  readonly uses: readonly KeyUse[]
}

export const EVERYWHERE: KeyGroup = {
  where: 'Everywhere',
  uses: [
    { keys: ['F1'], does: 'Show the keys' },
    { keys: ['Tab', 'Shift+Tab'], does: 'On to the next control, back to the last' },
    { keys: ['Enter', 'Space'], does: 'Press what is in focus' },
    { keys: ['Esc'], does: 'Close a dialog or a list' },
  ],
}

export const STRETCH: KeyGroup = {
  where: 'Choosing the stretch',
  uses: [
    { keys: ['←', '→'], does: 'Move the handle in focus by one frame' },
    { keys: ['Page Up', 'Page Down'], does: 'Move it by a tenth of the clip' },
    { keys: ['Home', 'End'], does: 'Move it as far as it goes' },
  ],
}

export const MARKING: KeyGroup = {
  where: 'Marking, on a point of the list',
  uses: [
    { keys: ['Tab', 'Shift+Tab'], does: 'On to the next point, back to the last' },
    { keys: ['Enter'], does: 'Place the point about where it should be, to be moved from there' },
    { keys: ['Arrow keys'], does: 'Move the point by 0.25 px' },
    { keys: ['Shift+Arrow keys'], does: 'Move the point by 2 px' },
    { keys: ['Ctrl+Arrow keys'], does: 'Move the point by 25 px' },
    { keys: ['Delete'], does: 'Take the point away' },
    { keys: ['+', '-'], does: 'Closer, further' },
    { keys: ['0'], does: 'Show the whole picture' },
    { keys: ['Page Up', 'Page Down'], does: 'One frame back, one frame on' },
    { keys: ['Ctrl+Z'], does: 'Take the last change back' },
    { keys: ['Ctrl+Shift+Z', 'Ctrl+Y'], does: 'Do it again' },
  ],
}

export const RIDE: KeyGroup = {
  where: 'Ride, on the film or the chart',
  uses: [
    { keys: ['←', '→'], does: 'One frame back, one frame on (also , and .)' },
    { keys: ['Shift+←', 'Shift+→'], does: 'Ten frames back, ten frames on' },
    { keys: ['Home', 'End'], does: 'To the first frame, to the last' },
    { keys: ['Space'], does: 'Play, stop' },
    { keys: ['B', 'Z', 'P', 'D'], does: 'Plank, zones, paws, outline of the dog drawn on the picture or not' },
    { keys: ['Ctrl+Z'], does: 'Take the last correction back' },
    { keys: ['Ctrl+Shift+Z', 'Ctrl+Y'], does: 'Do it again' },
    { keys: ['Esc'], does: 'Choose nothing' },
  ],
}

export const MOMENT: KeyGroup = {
  where: 'Ride, on a moment of the chart',
  uses: [
    { keys: ['←', '→'], does: 'Move it by one frame' },
    { keys: ['Shift+←', 'Shift+→'], does: 'Move it by 0.1 s' },
    { keys: ['Delete'], does: 'It did not happen' },
  ],
}
