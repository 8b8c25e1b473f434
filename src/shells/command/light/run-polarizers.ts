/** `null`: a series of photographs -> the null. `ports`: two of the attachment's front -> which port is dark to which eye. */
import { type NullSearchRequest, searchNull } from '../../../application/polarizers/describe-null.ts';
import { reportPorts } from '../../../application/polarizers/describe-ports.ts';
import type { SeriesShot } from '../../../application/polarizers/find-null.ts';
import { ASPECT_RANGE } from '../../../kernel/aspect.ts';
import { renderNullSearch, renderPortShots } from '../../../report/text/render-polarizers.ts';
import { formatJsonLine } from '../../../wording/make-safe.ts';
import { translateCommand } from '../../../wording/command.ts';
import { translateNullSearch, translatePortShots } from '../../../wording/polarizers.ts';
import type { CommandWorld } from '../command-world.ts';
import { EXIT, type ExitStatus, requireRange, wrongUsage } from '../exit-status.ts';
import { readHouseFile } from '../read-house-file.ts';

export interface NullWords {
  /** In the order in which they were taken. */
  readonly photographs: readonly string[];
  readonly lens: NullSearchRequest['lens'];
  readonly turned: NullSearchRequest['turned'];
  readonly reference: string;
  /** Degrees, with commas between. */
  readonly turns?: string;
  readonly step?: number;
  /** Farthest that a turn is off, degrees. */
  readonly doubt: number;
  readonly aspect: number;
  readonly json?: boolean;
}

export async function runNull(words: NullWords, { terminal, software }: CommandWorld): Promise<ExitStatus> {
  const options = readNullWords(words, software.version);
  const { isWatched, progress } = terminal;
  const count = options.shots.length;
  const onShot = (done: number) => progress(translateCommand('progress-photographs', { done, count }), done === count);
  const search = translateNullSearch(await searchNull(options, isWatched ? onShot : undefined));
  terminal.print(words.json ? formatJsonLine(search) : renderNullSearch(search, terminal.style));
  return search.outcome === 'found' ? EXIT.measured : EXIT.refused;
}

/** Throws UsageError for what no series can be. */
export function readNullWords(words: NullWords, softwareVersion: string): NullSearchRequest {
  const { photographs, turns, step, lens, turned, reference, aspect, doubt } = words;
  requireRange('--aspect', aspect, ASPECT_RANGE.min, ASPECT_RANGE.max);
  if (turns !== undefined && step !== undefined) throw wrongUsage('turns-or-step');
  if (step !== undefined && step === 0) throw wrongUsage('step-zero');
  requireRange('--doubt', doubt, 0, 45);
  const told = turns === undefined ? [] : readTurns(turns);
  if (told.length > photographs.length) {
    throw wrongUsage('turns-count', { turns: told.length, photographs: photographs.length });
  }
  const turnOf = (k: number) => (step === undefined ? told[k] : k * step);
  const shots = photographs.map((path, k): SeriesShot => {
    const turn_deg = turnOf(k);
    return { path, name: path, ...(turn_deg === undefined ? {} : { turn_deg }) };
  });
  return {
    lens,
    turned,
    aspect,
    shots,
    reference: { path: reference, name: reference },
    doubt_deg: doubt,
    softwareVersion,
  };
}

function readTurns(text: string): number[] {
  return text.split(',').map((part) => {
    const turn = part.trim();
    if (!/^[+-]?(\d+\.?\d*|\.\d+)$/.test(turn)) {
      throw wrongUsage('turns-form', { value: text });
    }
    return Number(turn);
  });
}

export interface PortsRequest {
  readonly left: string;
  readonly right: string;
  readonly house?: string;
  readonly json?: boolean;
}

export async function runPorts(
  { left, right, house, json }: PortsRequest,
  { terminal, software }: CommandWorld,
): Promise<ExitStatus> {
  const upper = house === undefined ? undefined : (await readHouseFile(house)).attachment?.upper_port_shows;
  const shots = { left: { path: left, name: left }, right: { path: right, name: right } };
  const expected = upper === undefined ? {} : { upperPortShows: upper };
  const record = translatePortShots(await reportPorts({ ...shots, ...expected, softwareVersion: software.version }));
  terminal.print(json ? formatJsonLine(record) : renderPortShots(record, terminal.style));
  return record.outcome === 'compared' ? EXIT.measured : EXIT.refused;
}
