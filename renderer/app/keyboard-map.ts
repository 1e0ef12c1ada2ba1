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
    { keys: ['F1'], does: 'Show the keyboard shortcuts' },
    { keys: ['Tab', 'Shift+Tab'], does: 'Next control, previous control' },
    { keys: ['Enter', 'Space'], does: 'Press the button in focus' },
    { keys: ['Esc'], does: 'Close a dialog or a list' },
  ],
}

export const STRETCH: KeyGroup = {
  where: 'Choosing the part to measure',
  uses: [
    { keys: ['←', '→'], does: 'Move the handle by one frame' },
    { keys: ['Page Up', 'Page Down'], does: 'Move it by a tenth of the clip' },
    { keys: ['Home', 'End'], does: 'Move it to the first or last frame' },
    { keys: ['Space'], does: 'Play, pause' },
  ],
}

export const MARKING: KeyGroup = {
  where: 'Marking, on a point of the list',
  uses: [
    { keys: ['Tab', 'Shift+Tab'], does: 'Next point, previous point' },
    { keys: ['Enter'], does: 'Place the point roughly, then move it' },
    { keys: ['Arrow keys'], does: 'Move the point by 0.25 px' },
    { keys: ['Shift+Arrow keys'], does: 'Move the point by 2 px' },
    { keys: ['Ctrl+Arrow keys'], does: 'Move the point by 25 px' },
    { keys: ['Delete'], does: 'Remove the point' },
    { keys: ['+', '-'], does: 'Zoom in, zoom out' },
    { keys: ['0'], does: 'Show the whole picture' },
    { keys: ['Page Up', 'Page Down'], does: 'Previous frame, next frame' },
    { keys: ['Ctrl+Z'], does: 'Undo' },
    { keys: ['Ctrl+Shift+Z', 'Ctrl+Y'], does: 'Redo' },
  ],
}

export const RIDE: KeyGroup = {
  where: 'Ride, on the film or the chart',
  uses: [
    { keys: ['←', '→'], does: 'Previous frame, next frame (also , and .)' },
    { keys: ['Shift+←', 'Shift+→'], does: 'Ten frames back, ten frames forward' },
    { keys: ['Home', 'End'], does: 'First frame, last frame' },
    { keys: ['Space'], does: 'Play, pause' },
    { keys: ['B', 'Z', 'P', 'D'], does: 'Show or hide plank, zones, paws, outline of the dog' },
    { keys: ['Ctrl+Z'], does: 'Undo' },
    { keys: ['Ctrl+Shift+Z', 'Ctrl+Y'], does: 'Redo' },
    { keys: ['Esc'], does: 'Close the selection' },
  ],
}

export const MOMENT: KeyGroup = {
  where: 'Ride, on a moment of the chart',
  uses: [
    { keys: ['←', '→'], does: 'Move it by one frame' },
    { keys: ['Shift+←', 'Shift+→'], does: 'Move it by 0.1 s' },
    { keys: ['Delete'], does: 'Mark as “did not happen”' },
  ],
}
