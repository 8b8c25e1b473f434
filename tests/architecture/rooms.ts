/**
 * The rooms under src and what each may import. DEVELOPERS.md shows the same table and every room's tsconfig.json
 * the same references; the tests beside this file compare all three and check every import against it.
 */
export interface Room {
  /** Rooms whose files it may import, besides its own. */
  readonly rooms: readonly string[];
  /** npm packages and built-in modules of Node. */
  readonly packages: readonly AllowedPackage[];
  /** `any`: neither Node's modules nor its globals exist there, nor a page; `dom`: a page, and no Node. */
  readonly runtime: 'any' | 'node' | 'dom';
}

export interface AllowedPackage {
  readonly name: string;
  /** The only file or folder under src that may import it; the whole room where left out. */
  readonly only?: string;
}

const whole = (...names: string[]): AllowedPackage[] => names.map((name) => ({ name }));

export const ROOMS: Readonly<Record<string, Room>> = {
  kernel: { rooms: [], packages: [], runtime: 'any' },
  imaging: { rooms: ['kernel'], packages: [], runtime: 'any' },
  photo: { rooms: ['imaging', 'kernel'], packages: whole('sharp', 'node:crypto', 'node:fs/promises'), runtime: 'node' },
  target: {
    rooms: ['imaging', 'kernel'],
    packages: [{ name: '@cantoo/pdf-lib', only: 'target/draw-pdf.ts' }],
    runtime: 'any',
  },
  vision: {
    rooms: ['target', 'imaging', 'kernel'],
    packages: [{ name: 'opencv-wasm', only: 'vision/opencv' }],
    runtime: 'any',
  },
  geometry: { rooms: ['kernel'], packages: [], runtime: 'any' },
  light: { rooms: ['kernel'], packages: [], runtime: 'any' },
  limits: { rooms: ['geometry', 'light', 'kernel'], packages: [], runtime: 'any' },
  diagnosis: { rooms: ['limits', 'geometry', 'light', 'kernel'], packages: [], runtime: 'any' },
  turns: { rooms: ['limits', 'geometry', 'kernel'], packages: [], runtime: 'any' },
  record: { rooms: ['kernel'], packages: whole('canonicalize', 'zod'), runtime: 'any' },
  wording: { rooms: ['record', 'kernel'], packages: whole('intl-messageformat'), runtime: 'any' },
  report: { rooms: ['wording', 'record', 'kernel'], packages: [], runtime: 'any' },
  scene: { rooms: ['target', 'imaging', 'kernel'], packages: [], runtime: 'any' },
  application: {
    rooms: [
      'photo',
      'vision',
      'target',
      'geometry',
      'light',
      'limits',
      'diagnosis',
      'turns',
      'record',
      'imaging',
      'kernel',
    ],
    packages: [],
    runtime: 'node',
  },
  storage: {
    rooms: [],
    packages: whole(
      'node:child_process',
      'node:crypto',
      'node:fs',
      'node:fs/promises',
      'node:os',
      'node:path',
      'node:timers/promises',
      'node:url',
      'node:util',
      'zod',
    ),
    runtime: 'node',
  },
  logbook: {
    rooms: ['photo', 'record', 'storage', 'kernel'],
    packages: [
      ...whole('node:crypto', 'node:fs', 'node:fs/promises', 'node:os', 'node:path', 'node:timers/promises'),
      { name: 'yauzl', only: 'logbook/bundle' },
      { name: 'yazl', only: 'logbook/bundle' },
    ],
    runtime: 'node',
  },
  pdf: {
    rooms: ['kernel'],
    packages: whole('node:child_process', 'node:fs/promises', 'node:os', 'node:path', 'node:url'),
    runtime: 'node',
  },
  services: {
    rooms: ['application', 'logbook', 'report', 'wording', 'record', 'kernel'],
    packages: [],
    runtime: 'node',
  },
  contract: { rooms: ['record', 'kernel'], packages: whole('zod'), runtime: 'any' },
  engine: {
    rooms: ['application', 'contract', 'record', 'photo', 'imaging', 'target', 'kernel'],
    packages: whole('node:worker_threads'),
    runtime: 'node',
  },
  workspace: {
    rooms: [
      'engine',
      'services',
      'logbook',
      'pdf',
      'application',
      'report',
      'wording',
      'photo',
      'contract',
      'record',
      'storage',
      'kernel',
    ],
    packages: whole('node:fs/promises', 'node:os', 'node:path', 'zod'),
    runtime: 'node',
  },
  'shells/command': {
    rooms: [
      'engine',
      'services',
      'logbook',
      'pdf',
      'application',
      'report',
      'wording',
      'record',
      'scene',
      'target',
      'photo',
      'storage',
      'kernel',
    ],
    packages: whole('commander', 'node:crypto', 'node:fs/promises', 'node:os', 'node:path', 'zod'),
    runtime: 'node',
  },
  'shells/gateway': {
    rooms: ['workspace', 'wording', 'contract', 'record'],
    packages: whole('node:fs/promises', 'node:path'),
    runtime: 'node',
  },
  'shells/browser-host': {
    rooms: ['shells/gateway', 'workspace', 'engine', 'storage'],
    packages: whole('node:child_process', 'node:crypto', 'node:http', 'node:net', 'node:path', 'node:util'),
    runtime: 'node',
  },
  'shells/desktop': {
    rooms: ['shells/gateway', 'workspace', 'engine', 'contract', 'record', 'pdf', 'storage'],
    packages: whole('electron', 'node:fs/promises', 'node:path', 'node:timers/promises', 'zod'),
    runtime: 'node',
  },
  'shells/interface': {
    rooms: ['contract', 'report', 'wording', 'record', 'imaging', 'kernel'],
    packages: whole('react', 'react-dom'),
    runtime: 'dom',
  },
};

/** Folders of src that hold no code. */
export const FOLDERS_WITHOUT_CODE: readonly string[] = ['manual'];
