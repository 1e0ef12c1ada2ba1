import { Menu, type MenuItemConstructorOptions } from 'electron'

/** The few entries that people expect of any program, above all copying and the size of text. */
export function setupMenu(): void {
  const view: MenuItemConstructorOptions = {
    label: 'View',
    submenu: [
      { role: 'resetZoom' },
      { role: 'zoomIn' },
      { role: 'zoomOut' },
      { type: 'separator' },
      { role: 'togglefullscreen' },
    ],
  }
  const first: MenuItemConstructorOptions[] =
    process.platform === 'darwin' ? [{ role: 'appMenu' }] : [{ role: 'fileMenu' }]
  Menu.setApplicationMenu(Menu.buildFromTemplate([...first, { role: 'editMenu' }, view, { role: 'windowMenu' }]))
}
