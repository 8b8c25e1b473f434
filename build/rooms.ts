/**
 * The rooms under src and what each may import: the one place where this is said. `npm run rooms` writes it into every
 * room's tsconfig.json, into the references of the project and of the tests, and into the table of DEVELOPERS.md; the
 * tests of tests/architecture check that these are in step, and every import against this table.
 */
export interface Room {
  /** What it is for, in a line of the table. */
  readonly holds: string;
  /** Rooms whose files it may import, besides its own. */
  readonly rooms: readonly string[];
  /** npm packages and built-in modules of Node. */
  readonly packages: readonly AllowedPackage[];
  /** `any`: neither Node's modules nor its globals exist there, nor a page; `dom`: a page, and no Node. */
  readonly runtime: 'any' | 'node' | 'dom';
  /** It has files of data (JSON) that its code imports. */
  readonly data?: true;
}

export interface AllowedPackage {
  readonly name: string;
  /** The only file or folder under src that may import it; the whole room where left out. */
  readonly only?: string;
}

const whole = (...names: string[]): AllowedPackage[] => names.map((name) => ({ name }));

export const ROOMS: Readonly<Record<string, Room>> = {
  kernel: {
    holds: 'small linear algebra, least squares, statistics, homographies, uncertainty, seeded random numbers',
    rooms: [],
    packages: [],
    runtime: 'any',
  },
  record: {
    holds:
      'what is kept: schemas of house, reading, logbook entry and bundle, migrations, canonical JSON. Never imports an algorithm',
    rooms: ['kernel'],
    packages: whole('canonicalize', 'zod'),
    runtime: 'any',
  },
  imaging: {
    holds: 'pixels, rasters, linear light, sampling, exposure',
    rooms: ['kernel'],
    packages: [],
    runtime: 'any',
  },
  photo: {
    holds: 'bytes of a photograph to pixels and back; formats, colour profiles, camera facts',
    rooms: ['imaging', 'kernel'],
    packages: whole('sharp', 'node:crypto', 'node:fs/promises'),
    runtime: 'node',
  },
  target: {
    holds: 'the chart, its codes and its drawings; the two-up film frame',
    rooms: ['imaging', 'kernel'],
    packages: [{ name: '@cantoo/pdf-lib', only: 'target/draw-pdf.ts' }],
    runtime: 'any',
  },
  vision: {
    holds: 'finding, reading and measuring marks; leaks',
    rooms: ['target', 'imaging', 'kernel'],
    packages: [{ name: 'opencv-wasm', only: 'vision/opencv' }],
    runtime: 'any',
  },
  geometry: {
    holds: 'places of marks to views, misalignment, steadiness',
    rooms: ['kernel'],
    packages: [],
    runtime: 'any',
  },
  light: {
    holds:
      'which eye sees which picture, how much leaks, where a polarizer has its null, which port is dark to which eye, how even the light is and what is left of it',
    rooms: ['record', 'kernel'],
    packages: [],
    runtime: 'any',
  },
  limits: {
    holds: 'limits in force with their sources, from where the picture is judged, verdicts',
    rooms: ['geometry', 'light', 'record', 'kernel'],
    packages: [],
    runtime: 'any',
  },
  diagnosis: {
    holds: 'what can be behind the findings: causes with their likelihoods, and the check that tells most',
    rooms: ['limits', 'geometry', 'light', 'record', 'kernel'],
    packages: [],
    runtime: 'any',
  },
  turns: {
    holds: 'model of the attachment, effects of adjustments, solver, advice',
    rooms: ['limits', 'geometry', 'record', 'kernel'],
    packages: [],
    runtime: 'any',
  },
  wording: {
    holds:
      'everything that is said to people: one catalogue of messages, and which message and numbers a record calls for',
    rooms: ['record', 'kernel'],
    packages: whole('intl-messageformat'),
    runtime: 'any',
    data: true,
  },
  drawings: {
    holds:
      'what is drawn, once for screen and paper: dial, tolerance bar, verdict mark, trend, table of terms, eyes, both photographs with arrows',
    rooms: ['wording', 'record', 'kernel'],
    packages: whole('react', 'd3-scale'),
    runtime: 'any',
  },
  report: {
    holds: 'a record to text, HTML and CSV; pure',
    rooms: ['drawings', 'wording', 'record', 'kernel'],
    packages: whole('react', 'react-dom'),
    runtime: 'any',
  },
  scene: {
    holds: 'the simulated projector and camera, with exact truth; knows nothing of `src/vision`',
    rooms: ['target', 'imaging', 'kernel'],
    packages: [],
    runtime: 'any',
  },
  application: {
    holds: 'use cases; the spine',
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
    holds:
      'files that appear whole or not at all, the lock of a folder; a watched folder; where this program lies and which version it is',
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
      'chokidar',
    ),
    runtime: 'node',
  },
  logbook: {
    holds:
      'the archive on disk: entries and photographs by hash, search, before and after, trends, verification, bundles',
    rooms: ['photo', 'wording', 'record', 'storage', 'kernel'],
    packages: [
      ...whole('node:crypto', 'node:fs', 'node:fs/promises', 'node:os', 'node:path', 'node:timers/promises'),
      { name: 'yauzl', only: 'logbook/bundle' },
      { name: 'yazl', only: 'logbook/bundle' },
    ],
    runtime: 'node',
  },
  pdf: {
    holds: 'a report as pages: HTML to PDF by the Chromium that is installed',
    rooms: ['kernel'],
    packages: whole('node:child_process', 'node:fs/promises', 'node:os', 'node:path', 'node:url'),
    runtime: 'node',
  },
  contract: {
    holds: 'what a shell can ask for and what it hears: procedures, events, failures',
    rooms: ['record', 'kernel'],
    packages: whole('zod'),
    runtime: 'any',
  },
  engine: {
    holds: "measuring work beside the caller's thread: one worker, its queue, progress, calling off",
    rooms: ['application', 'contract', 'record', 'photo', 'imaging', 'target', 'kernel'],
    packages: whole('node:worker_threads'),
    runtime: 'node',
  },
  services: {
    holds:
      'what every shell does alike with readings and the logbook: reports of a reading, an entry, a pair and trends; keeping, notes, export, import, verification',
    rooms: ['application', 'logbook', 'report', 'wording', 'record', 'kernel'],
    packages: [],
    runtime: 'node',
  },
  workspace: {
    holds:
      'the current work of one operator: its photographs, rounds and settings on disk, and everything that can be asked of it',
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
    holds: 'the command line, thin',
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
    holds: "answers requests of pages with the work, the interface's files and a strict policy",
    rooms: ['workspace', 'wording', 'contract', 'record'],
    packages: whole('node:fs/promises', 'node:path'),
    runtime: 'node',
  },
  'shells/browser-host': {
    holds: 'serves the interface to a browser on this machine, and to nobody else',
    rooms: ['shells/gateway', 'workspace', 'engine', 'storage', 'wording'],
    packages: whole('node:child_process', 'node:crypto', 'node:http', 'node:net', 'node:path', 'node:util'),
    runtime: 'node',
  },
  'shells/desktop': {
    holds: "the desktop's window, menu, dialogs and guards around the same page, thin",
    rooms: ['shells/gateway', 'workspace', 'engine', 'contract', 'record', 'pdf', 'storage', 'wording'],
    packages: whole('electron', 'node:fs/promises', 'node:path', 'node:timers/promises', 'zod'),
    runtime: 'node',
  },
  'shells/interface': {
    holds: 'the screens: draws and formats, never fits',
    rooms: ['contract', 'drawings', 'wording', 'record', 'imaging', 'kernel'],
    packages: whole('github-slugger', 'minisearch', 'react', 'react-dom', 'react-markdown', 'remark-gfm'),
    runtime: 'dom',
    data: true,
  },
};

/** Folders of src that hold no code. */
export const FOLDERS_WITHOUT_CODE: readonly string[] = ['manual'];
