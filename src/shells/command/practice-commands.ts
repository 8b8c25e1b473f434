/** What to type next: the commands that measure the photographs of a rehearsal, each on a line of its own. */
import { join } from 'node:path';
import type { TruthRecord } from '../../scene/truth-record.ts';

export interface PracticePlace {
  /** Folder of the photographs. */
  readonly out: string;
  /** House file of the rehearsal. */
  readonly house?: string;
}

export function namePracticeCommands(truth: TruthRecord, { out, house }: PracticePlace): string[] {
  const { shots, scene, further } = truth;
  const { bare, flat, open_gate, ports, null_series } = further ?? {};
  const at = (file: string) => join(out, file);
  const inHouse = house === undefined ? [] : ['--house', house];
  const [left, right] = shots.map(({ file }) => at(file)) as [string, string];
  const pair = ['--left', left, '--right', right];
  const evened = flat ? ['--flat', at(flat.file)] : [];
  const commands = [
    ['measure', ...namePhotographs(truth, at), ...inHouse],
    flat && ['evenness', ...pair, ...evened, ...inHouse],
    bare && ['evenness', '--bare', at(bare.file), ...evened, ...inHouse],
    open_gate && ['evenness', '--bare', at(open_gate.file), '--open-gate', ...evened, ...inHouse],
    ports && ['ports', '--left', at(ports.files.left), '--right', at(ports.files.right), ...inHouse],
    null_series && [
      'null',
      ...null_series.shots.map(({ file }) => at(file)),
      ...['--turns', null_series.shots.map(({ turn_deg }) => turn_deg).join(',')],
      ...['--lens', null_series.lens, '--turned', null_series.turned, '--reference', at(null_series.reference)],
      ...(house === undefined ? [] : ['--aspect', String(scene.aspect)]),
    ],
  ];
  return commands.flatMap((words) => (words ? [['twinplumb', ...words.map(quote)].join(' ')] : []));
}

/** All photographs of the target, and their order where it is not the usual one. */
function namePhotographs({ shots, series, further }: TruthRecord, at: (file: string) => string): string[] {
  const taken = (series ?? shots).map(({ role, file }) => ({ role: role.replace('-lens', ''), file }));
  const closing = further?.closing;
  if (closing) taken.push({ role: 'closing', file: closing.file });
  const words = ['bare', 'left', 'right', 'closing'].flatMap((role) => {
    const files = taken.flatMap((one) => (one.role === role ? [at(one.file)] : []));
    return files.length === 0 ? [] : [`--${role}`, ...files];
  });
  const order = taken.map(({ role }) => role).join(',');
  return DEFAULT_ORDER.test(order) ? words : [...words, '--order', order];
}

/** As `measure` takes them to be, where nothing else is said. */
const DEFAULT_ORDER = /^left,right(,right,left)?(,bare)*(,closing)?$/;

/** As a command line takes it: names with spaces and the like stand between double quotes. */
function quote(word: string): string {
  return /^[\w./\\:=+,~-]+$/.test(word) ? word : `"${word.replace(/["$`]/g, '\\$&')}"`;
}
