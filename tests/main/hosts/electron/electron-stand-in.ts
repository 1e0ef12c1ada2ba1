import { type ChildProcess, fork } from 'node:child_process'
import { EventEmitter } from 'node:events'
import { join } from 'node:path'
import type {
  App,
  BrowserWindow,
  BrowserWindowConstructorOptions,
  ContextBridge,
  Dialog,
  HandlerDetails,
  IpcMain,
  IpcMainInvokeEvent,
  IpcRenderer,
  Menu,
  MessageBoxOptions,
  NativeTheme,
  Privileges,
  Protocol,
  Session,
  Shell,
  UtilityProcess,
  utilityProcess,
  WebContents,
  WebRequest,
  WebUtils,
  WindowOpenHandlerResponse,
} from 'electron'

/**
 * Stands for the parts of Electron that the shell uses, where Electron itself cannot run. Each part is declared as a
 * part of Electron's own declarations, so that it no longer compiles when those change. What a browser does (drawing,
 * the sandbox itself) is not here.
 */
export interface ElectronStandIn {
  /** What `import 'electron'` gives. */
  readonly electron: Record<string, unknown>
  readonly app: StandInApp
  readonly session: StandInSession
  readonly windows: readonly StandInWindow[]
  readonly schemes: readonly { readonly scheme: string; readonly privileges?: Privileges }[]
  readonly ipcHandlers: ReadonlyMap<string, IpcHandler>
  /** What the preload script put on the window. */
  readonly exposed: ReadonlyMap<string, unknown>
  readonly messages: readonly MessageBoxOptions[]
  readonly errorBoxes: readonly string[]
  readonly openedOutside: readonly string[]
  readonly workers: readonly ChildProcess[]
  /** Where a file of the window lies, as Electron knows it. */
  placeOf(file: File, path: string): void
  /** The button that is pressed in the next message box. */
  answerWith(button: number): void
  /** What the shell's own protocol answers. */
  request(url: string, init?: RequestInit): Promise<Response>
}

type IpcHandler = Parameters<IpcMain['handle']>[1]
type ProtocolHandler = Parameters<Protocol['handle']>[1]

export interface StandInOptions {
  readonly appPath: string
  readonly logsFolder: string
  readonly isFirstInstance?: boolean
}

export function electronStandIn(options: StandInOptions): ElectronStandIn {
  const app = new StandInApp(options)
  const session = new StandInSession()
  const windows: StandInWindow[] = []
  const schemes: { scheme: string; privileges?: Privileges }[] = []
  const ipcHandlers = new Map<string, IpcHandler>()
  const exposed = new Map<string, unknown>()
  const messages: MessageBoxOptions[] = []
  const errorBoxes: string[] = []
  const openedOutside: string[] = []
  const workers: ChildProcess[] = []
  const places = new WeakMap<File, string>()
  let button = 0

  async function request(url: string, init: RequestInit = {}): Promise<Response> {
    const handler = session.handlers.get(new URL(url).protocol.slice(0, -1))
    if (handler === undefined) throw new TypeError(`net::ERR_UNKNOWN_URL_SCHEME ${url}`)
    return handler(new Request(url, init))
  }

  class OwnWindow extends StandInWindow {
    constructor(windowOptions: BrowserWindowConstructorOptions) {
      super(windowOptions, app, request)
      windows.push(this)
      app.emit('web-contents-created', {}, this.webContents)
    }
  }

  const protocol: Pick<Protocol, 'registerSchemesAsPrivileged'> = {
    registerSchemesAsPrivileged(custom) {
      if (app.isReady) throw new Error('protocol.registerSchemesAsPrivileged should be called before app is ready')
      schemes.push(...custom)
    },
  }
  const ipcMain: Pick<IpcMain, 'handle'> = {
    handle(channel, listener) {
      if (ipcHandlers.has(channel)) throw new Error(`Attempted to register a second handler for '${channel}'`)
      ipcHandlers.set(channel, listener)
    },
  }
  const toWindow = new EventEmitter()
  const ipcRenderer: Pick<IpcRenderer, 'invoke'> & Pick<EventEmitter, 'on' | 'removeListener'> = {
    async invoke(channel, ...args: unknown[]) {
      const handler = ipcHandlers.get(channel)
      if (handler === undefined) throw new Error(`No handler registered for '${channel}'`)
      const [window] = windows
      const event = { senderFrame: { url: window?.webContents.url ?? '', parent: null } }
      // What goes between processes is copied, both ways.
      const answer: unknown = await handler(event as unknown as IpcMainInvokeEvent, ...structuredClone(args))
      return structuredClone(answer)
    },
    on: toWindow.on.bind(toWindow),
    removeListener: toWindow.removeListener.bind(toWindow),
  }
  app.on('web-contents-created', (_event: unknown, contents: StandInContents) => {
    contents.on('sent', (channel: string, args: unknown[]) => toWindow.emit(channel, {}, ...args))
  })
  const contextBridge: Pick<ContextBridge, 'exposeInMainWorld'> = {
    exposeInMainWorld: (key: string, api: unknown) => void exposed.set(key, api),
  }
  const webUtils: Pick<WebUtils, 'getPathForFile'> = { getPathForFile: (file) => places.get(file) ?? '' }
  const dialog: Pick<Dialog, 'showErrorBox'> & {
    showMessageBox(window: BrowserWindow, options: MessageBoxOptions): ReturnType<Dialog['showMessageBox']>
  } = {
    showErrorBox: (_title, content) => void errorBoxes.push(content),
    showMessageBox(_window, box) {
      messages.push(box)
      return Promise.resolve({ response: button, checkboxChecked: false })
    },
  }
  const menu: Pick<typeof Menu, 'buildFromTemplate' | 'setApplicationMenu'> = {
    buildFromTemplate: (template) => ({ template }) as unknown as Menu,
    setApplicationMenu: () => undefined,
  }
  const nativeTheme: Pick<NativeTheme, 'shouldUseDarkColors'> = { shouldUseDarkColors: false }
  const shell: Pick<Shell, 'openExternal'> = {
    openExternal: (url) => Promise.resolve(void openedOutside.push(url)),
  }
  const utility: { fork: (...given: Parameters<(typeof utilityProcess)['fork']>) => UtilityPart } = {
    fork(modulePath, args = [], { serviceName = '' } = {}) {
      const worker = new StandInUtility(modulePath, args, serviceName)
      workers.push(worker.child)
      return worker
    },
  }

  return {
    electron: {
      ...{ app, BrowserWindow: OwnWindow, contextBridge, dialog, ipcMain, ipcRenderer, Menu: menu, nativeTheme },
      ...{ protocol, session: { defaultSession: session }, shell, utilityProcess: utility, webUtils },
    },
    ...{ app, session, windows, schemes, ipcHandlers, exposed, messages, errorBoxes, openedOutside, workers, request },
    placeOf: (file, path) => void places.set(file, path),
    answerWith: (next) => {
      button = next
    },
  }
}

type AppPart = Pick<
  App,
  'enableSandbox' | 'exit' | 'getAppPath' | 'getPath' | 'isPackaged' | 'quit' | 'requestSingleInstanceLock'
> & { whenReady(): ReturnType<App['whenReady']> }

/** An event that its listeners may forbid. */
export class PreventableEvent {
  defaultPrevented = false
  preventDefault(): void {
    this.defaultPrevented = true
  }
}

export class StandInApp extends EventEmitter implements AppPart {
  readonly isPackaged = false
  readonly #options: StandInOptions
  readonly #windows = new Set<StandInWindow>()
  isSandboxed = false
  isReady = false
  /** The exit code once the program has ended. */
  readonly ended: Promise<number>
  #end: (exitCode: number) => void = () => undefined

  constructor(options: StandInOptions) {
    super()
    this.#options = options
    this.ended = new Promise((resolve) => {
      this.#end = resolve
    })
  }

  enableSandbox(): void {
    if (this.isReady) throw new Error('app.enableSandbox() can only be called before app is ready')
    this.isSandboxed = true
  }

  requestSingleInstanceLock(): boolean {
    return this.#options.isFirstInstance ?? true
  }

  async whenReady(): Promise<void> {
    await new Promise((resolve) => setImmediate(resolve))
    this.isReady = true
  }

  getAppPath(): string {
    return this.#options.appPath
  }

  getPath(name: Parameters<App['getPath']>[0]): string {
    return name === 'logs' ? this.#options.logsFolder : join(this.#options.logsFolder, name)
  }

  opened(window: StandInWindow): void {
    this.#windows.add(window)
    window.once('closed', () => {
      this.#windows.delete(window)
      if (this.#windows.size === 0) this.emit('window-all-closed')
    })
  }

  quit(): void {
    for (const window of [...this.#windows]) window.close()
    if (this.#windows.size > 0) return
    const event = new PreventableEvent()
    this.emit('will-quit', event)
    if (!event.defaultPrevented) this.exit(0)
  }

  exit(exitCode = 0): void {
    this.emit('quit', {}, exitCode)
    this.#end(exitCode)
  }
}

type WindowPart = Pick<
  BrowserWindow,
  'close' | 'focus' | 'isDestroyed' | 'isMinimized' | 'loadURL' | 'restore' | 'show'
>

export class StandInWindow extends EventEmitter implements WindowPart {
  readonly options: BrowserWindowConstructorOptions
  readonly webContents = new StandInContents()
  readonly #request: (url: string) => Promise<Response>
  isShown = false
  #isGone = false

  constructor(options: BrowserWindowConstructorOptions, app: StandInApp, request: (url: string) => Promise<Response>) {
    super()
    this.options = options
    this.#request = request
    app.opened(this)
  }

  async loadURL(url: string): Promise<void> {
    const response = await this.#request(url)
    if (!response.ok) throw new Error(`ERR_FAILED (${response.status}) loading '${url}'`)
    this.webContents.url = url
    this.emit('ready-to-show')
  }

  show(): void {
    this.isShown = true
  }
  focus(): void {}
  restore(): void {}
  isMinimized(): boolean {
    return false
  }
  isDestroyed(): boolean {
    return this.#isGone
  }

  close(): void {
    const event = new PreventableEvent()
    this.emit('close', event)
    if (event.defaultPrevented || this.#isGone) return
    this.#isGone = true
    this.emit('closed')
  }
}

export class StandInContents extends EventEmitter implements Pick<WebContents, 'send' | 'setWindowOpenHandler'> {
  url = ''
  #opener: (details: HandlerDetails) => WindowOpenHandlerResponse = () => ({ action: 'allow' })

  send(channel: string, ...args: unknown[]): void {
    this.emit('sent', channel, structuredClone(args))
  }
  setWindowOpenHandler(handler: (details: HandlerDetails) => WindowOpenHandlerResponse): void {
    this.#opener = handler
  }
  /** What becomes of a page's wish for another window. */
  wantsWindow(url: string): WindowOpenHandlerResponse['action'] {
    return this.#opener({ url, frameName: '', features: '', disposition: 'foreground-tab' } as HandlerDetails).action
  }
  /** Whether an event of this name, as Electron sends it, is let pass. */
  lets(name: string, details: object = {}): boolean {
    const event = Object.assign(new PreventableEvent(), details)
    this.emit(name, event)
    return !event.defaultPrevented
  }
}

type SessionPart = Pick<
  Session,
  'setDevicePermissionHandler' | 'setPermissionCheckHandler' | 'setPermissionRequestHandler'
>

export class StandInSession extends EventEmitter implements SessionPart {
  readonly handlers = new Map<string, ProtocolHandler>()
  permissionRequest: Parameters<Session['setPermissionRequestHandler']>[0] = null
  permissionCheck: Parameters<Session['setPermissionCheckHandler']>[0] = null
  devicePermission: Parameters<Session['setDevicePermissionHandler']>[0] = null
  cancelled: readonly string[] = []

  readonly protocol: Pick<Protocol, 'handle'> = {
    handle: (scheme, handler) => void this.handlers.set(scheme, handler),
  }
  readonly webRequest = {
    onBeforeRequest: (
      filter: { urls?: string[] },
      listener: Exclude<Parameters<WebRequest['onBeforeRequest']>[0], null>,
    ) => {
      listener({} as Parameters<typeof listener>[0], ({ cancel }) => {
        if (cancel === true) this.cancelled = filter.urls ?? []
      })
    },
  }

  setPermissionRequestHandler(handler: typeof this.permissionRequest): void {
    this.permissionRequest = handler
  }
  setPermissionCheckHandler(handler: typeof this.permissionCheck): void {
    this.permissionCheck = handler
  }
  setDevicePermissionHandler(handler: typeof this.devicePermission): void {
    this.devicePermission = handler
  }
}

type UtilityPart = Pick<UtilityProcess, 'kill' | 'postMessage'>

/** A process of plain Node whose program finds Electron's `process.parentPort`. */
class StandInUtility extends EventEmitter implements UtilityPart {
  readonly child: ChildProcess

  constructor(modulePath: string, args: readonly string[], serviceName: string) {
    super()
    const bootstrap = new URL('./utility-stand-in.ts', import.meta.url)
    this.child = fork(modulePath, args, {
      execArgv: ['--import', import.meta.resolve('tsx'), '--import', bootstrap.href, `--title=${serviceName}`],
      serialization: 'advanced',
      stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
    })
    this.child.on('message', (message) => this.emit('message', message))
    this.child.on('exit', (code) => this.emit('exit', code ?? 1))
  }

  postMessage(message: unknown): void {
    if (this.child.connected) this.child.send(message as object)
  }
  kill(): boolean {
    return this.child.kill()
  }
}
