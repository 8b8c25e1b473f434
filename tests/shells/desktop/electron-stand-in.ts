/**
 * A stand-in for the desktop's runtime, for machines without it: it keeps what the program registers, so that a test can
 * call it as the runtime would. What is missing here fails when the bundle is loaded, because the name is not exported.
 */
import { EventEmitter } from 'node:events';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { MenuItemConstructorOptions, WebContents, WebPreferences } from 'electron';

/** The runtime names the folder of a program's own files after it. */
const { productName } = JSON.parse(readFileSync(join(import.meta.dirname, '..', '..', '..', 'package.json'), 'utf8'));

type Writable<T> = { -readonly [K in keyof T]: T[K] };
export type ProtocolHandler = (request: Request) => Promise<Response>;
export type InvokeHandler = (event: { sender: unknown; senderFrame: unknown }, ...payload: unknown[]) => unknown;

/** An event that can be prevented, as the runtime hands it to listeners. */
export interface Preventable {
  defaultPrevented: boolean;
  preventDefault(): void;
}

export function preventable<T extends object>(facts: T): T & Preventable {
  return {
    ...facts,
    defaultPrevented: false,
    preventDefault() {
      this.defaultPrevented = true;
    },
  };
}

type PermissionRequest = (
  asking: unknown,
  permission: string,
  answer: (isGranted: boolean) => void,
  details: object,
) => void;
type PermissionCheck = (asking: unknown, permission: string, origin: string, details: object) => boolean;
type BeforeRequest = (details: { url: string }, answer: (verdict: { cancel?: boolean }) => void) => void;

/** What is shared by all windows of the default storage. */
export class StoreStandIn extends EventEmitter {
  permissionRequest: PermissionRequest | undefined;
  permissionCheck: PermissionCheck | undefined;
  devicePermission: ((details: object) => boolean) | undefined;
  beforeRequest: BeforeRequest | undefined;
  isSpellChecking = true;
  /** Of a storage of its own; that of the page has the program's. */
  readonly protocols = new Map<string, ProtocolHandler>();
  readonly protocol = {
    handle: (scheme: string, handler: ProtocolHandler) => this.protocols.set(scheme, handler),
  };

  readonly webRequest = {
    onBeforeRequest: (listener: StoreStandIn['beforeRequest']) => {
      this.beforeRequest = listener;
    },
  };
  setPermissionRequestHandler(handler: StoreStandIn['permissionRequest']) {
    this.permissionRequest = handler;
  }
  setPermissionCheckHandler(handler: StoreStandIn['permissionCheck']) {
    this.permissionCheck = handler;
  }
  setDevicePermissionHandler(handler: StoreStandIn['devicePermission']) {
    this.devicePermission = handler;
  }
  setSpellCheckerEnabled(isEnabled: boolean) {
    this.isSpellChecking = isEnabled;
  }
}

export class ContentsStandIn extends EventEmitter {
  readonly mainFrame = { url: '' };
  /** What was sent to the page, and whoever carries it there. */
  readonly sent: unknown[][] = [];
  carry: (channel: string, ...payload: unknown[]) => void = () => {};
  openWindow: ((details: { url: string }) => { action: string }) | undefined;
  webRTCPolicy = 'default';
  reloads = 0;

  constructor(store: StoreStandIn) {
    super();
    (this as unknown as Writable<WebContents>).session = store as never;
  }
  getURL() {
    return this.mainFrame.url;
  }
  send(channel: string, ...payload: unknown[]) {
    this.sent.push([channel, ...payload]);
    this.carry(channel, ...payload);
  }
  reload() {
    this.reloads++;
  }
  setWindowOpenHandler(handler: ContentsStandIn['openWindow']) {
    this.openWindow = handler;
  }
  setWebRTCIPHandlingPolicy(policy: string) {
    this.webRTCPolicy = policy;
  }
  /** What the pages were made from, as its own storage answers. */
  readonly printedFrom: { readonly html: string; readonly options: object }[] = [];
  async printToPDF(options: object) {
    const store = (this as unknown as WebContents).session as unknown as StoreStandIn;
    const answer = await store.protocols.get(new URL(this.mainFrame.url).protocol.slice(0, -1))!(
      new Request(this.mainFrame.url),
    );
    this.printedFrom.push({ html: await answer.text(), options });
    return Buffer.from('%PDF-1.7 of the runtime');
  }
  forcefullyCrashRenderer() {
    this.emit('render-process-gone', preventable({}), { reason: 'killed', exitCode: 9 });
  }
}

export interface WindowOptions {
  readonly show?: boolean;
  readonly webPreferences: WebPreferences;
}

export interface WindowStandIn extends EventEmitter {
  readonly options: WindowOptions;
  readonly webContents: ContentsStandIn;
  isShown: boolean;
  isInFront: boolean;
  isSmall: boolean;
  readonly loaded: string[];
  isDestroyed(): boolean;
  close(): void;
}

/** One runtime, of which one program is started. */
export class ElectronStandIn {
  readonly windows: WindowStandIn[] = [];
  readonly store = new StoreStandIn();
  readonly partitions = new Map<string, StoreStandIn>();
  readonly schemes: unknown[] = [];
  readonly protocols = new Map<string, ProtocolHandler>();
  readonly invokes = new Map<string, InvokeHandler>();
  readonly switches = new Map<string, string>();
  readonly errors: string[][] = [];
  /** Answers to dialogs, in the order in which they are asked for; what was asked. */
  readonly chosenFiles: (readonly string[] | 'left')[] = [];
  readonly pressedButtons: number[] = [];
  readonly asked: object[] = [];
  menu: MenuItemConstructorOptions[] = [];
  isFirst = true;
  isSandboxed = false;
  hasQuit = false;
  exitCode: number | undefined;
  cameraAnswer = true;
  readonly app: EventEmitter;
  readonly module: Readonly<Record<string, unknown>>;
  #begin: () => void = () => {};

  constructor(folders: Readonly<Record<string, string>>) {
    const ready = new Promise<void>((resolve) => {
      this.#begin = resolve;
    });
    const userData = join(folders.appData!, productName);
    const paths = new Map([...Object.entries(folders), ['userData', userData] as const]);
    // A person's own work is no place for tests.
    process.env.TWINPLUMB_FOLDER = join(userData, 'work');
    this.app = Object.assign(new EventEmitter(), {
      isPackaged: false,
      commandLine: {
        appendSwitch: (name: string, value = '') => this.switches.set(name, value),
        hasSwitch: (name: string) => this.switches.has(name),
      },
      enableSandbox: () => {
        this.isSandboxed = true;
      },
      getPath: (name: string) => {
        const path = paths.get(name);
        if (path === undefined) throw new Error(`nobody needs the folder ${name}`);
        return path;
      },
      requestSingleInstanceLock: () => this.isFirst,
      whenReady: () => ready,
      quit: () => this.quit(),
      exit: (code: number) => {
        this.exitCode = code;
        this.hasQuit = true;
      },
    });
    const BrowserWindow = this.#windowClass();
    this.module = {
      app: this.app,
      BrowserWindow,
      Menu: {
        buildFromTemplate: (template: MenuItemConstructorOptions[]) => template,
        setApplicationMenu: (menu: MenuItemConstructorOptions[]) => {
          this.menu = menu;
        },
      },
      dialog: {
        showOpenDialog: async (_window: unknown, asked: object) => {
          this.asked.push(asked);
          const answer = this.chosenFiles.shift() ?? 'left';
          return answer === 'left' ? { canceled: true, filePaths: [] } : { canceled: false, filePaths: [...answer] };
        },
        showMessageBox: async (_window: unknown, asked: object) => {
          this.asked.push(asked);
          return { response: this.pressedButtons.shift() ?? 0 };
        },
        showErrorBox: (title: string, text: string) => this.errors.push([title, text]),
      },
      ipcMain: { handle: (channel: string, handler: InvokeHandler) => this.invokes.set(channel, handler) },
      protocol: {
        registerSchemesAsPrivileged: (schemes: unknown[]) => this.schemes.push(...schemes),
        handle: (scheme: string, handler: ProtocolHandler) => this.protocols.set(scheme, handler),
      },
      systemPreferences: { askForMediaAccess: async () => this.cameraAnswer },
    };
  }

  /** Windows share one storage, unless one names another. */
  storeOf(partition: string | undefined): StoreStandIn {
    if (partition === undefined) return this.store;
    const store = this.partitions.get(partition) ?? new StoreStandIn();
    this.partitions.set(partition, store);
    return store;
  }

  /** The runtime is up: the program may open its window. */
  begin(): void {
    this.#begin();
    this.app.emit('ready');
  }

  /** Somebody asks the program to end: every window is asked first. */
  quit(): void {
    this.app.emit('before-quit', preventable({}));
    if (this.windows.every((window) => window.isDestroyed())) this.#end();
    else for (const window of this.windows) window.close();
  }

  #end(): void {
    this.app.emit('will-quit', preventable({}));
    this.hasQuit = true;
  }

  #windowClass() {
    const runtime = this;
    return class extends EventEmitter implements WindowStandIn {
      static getAllWindows = () => runtime.windows.filter((window) => !window.isDestroyed());
      readonly options: WindowOptions;
      readonly webContents: ContentsStandIn;
      readonly loaded: string[] = [];
      isShown: boolean;
      isInFront = false;
      isSmall = false;
      #isDestroyed = false;

      constructor(options: WindowOptions) {
        super();
        this.options = options;
        this.webContents = new ContentsStandIn(runtime.storeOf(options.webPreferences.partition));
        this.isShown = options.show ?? true;
        runtime.windows.push(this);
        runtime.app.emit('web-contents-created', preventable({}), this.webContents);
      }
      async loadURL(address: string) {
        this.loaded.push(address);
        this.webContents.mainFrame.url = address;
        this.emit('ready-to-show');
      }
      show() {
        this.isShown = true;
      }
      focus() {
        this.isInFront = true;
      }
      isMinimized() {
        return this.isSmall;
      }
      restore() {
        this.isSmall = false;
      }
      isDestroyed() {
        return this.#isDestroyed;
      }
      close() {
        const event = preventable({});
        this.emit('close', event);
        if (!event.defaultPrevented) this.destroy();
      }
      destroy() {
        if (this.#isDestroyed) return;
        this.#isDestroyed = true;
        this.emit('closed');
        if (runtime.windows.every((window) => window.isDestroyed())) runtime.app.emit('window-all-closed');
      }
    };
  }
}
