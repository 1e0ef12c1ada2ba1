/** Gives a process of plain Node what a program finds in a utility process of Electron, and ends it with its parent. */
const parentPort = {
  postMessage: (message: unknown) => void process.send?.(message),
  on: (_event: 'message', listener: (event: { readonly data: unknown }) => void) =>
    void process.on('message', (data) => listener({ data })),
}
Object.assign(process, { parentPort })
process.on('disconnect', () => process.exit())
