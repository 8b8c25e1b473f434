/** `null`: a series of photographs -> the null. `ports`: two of the attachment's front -> which port is dark to which eye. */
import { type NullSearchRequest, searchNull } from '../../../application/polarizers/describe-null.ts';
import { reportPorts } from '../../../application/polarizers/describe-ports.ts';
import type { SeriesShot } from '../../../application/polarizers/find-null.ts';
import { ASPECT_RANGE } from '../../../kernel/aspect.ts';
import { renderNullSearch, renderPortShots } from '../../../report/text/render-polarizers.ts';
import { translateNullSearch, translatePortShots } from '../../../wording/polarizers.ts';
import { EXIT, type ExitStatus, UsageError } from '../exit-status.ts';
import type { CommandWorld } from '../command-world.ts';
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
  const order = readNullWords(words, software.version);
  const { isWatched, remark } = terminal;
  const count = order.shots.length;
  const onShot = (done: number) => remark(`\r${done} of ${count} photographs${done === count ? '\n' : ''}`);
  const search = translateNullSearch(await searchNull(order, isWatched ? onShot : undefined));
  terminal.print(words.json ? `${JSON.stringify(search)}\n` : renderNullSearch(search));
  return search.outcome === 'found' ? EXIT.measured : EXIT.refused;
}

/** Throws UsageError for what no series can be. */
export function readNullWords(words: NullWords, softwareVersion: string): NullSearchRequest {
  const { photographs, turns, step, lens, turned, reference, aspect, doubt } = words;
  if (!(aspect >= ASPECT_RANGE.min && aspect <= ASPECT_RANGE.max)) {
    throw new UsageError(`--aspect must lie between ${ASPECT_RANGE.min} and ${ASPECT_RANGE.max}, not ${aspect}`);
  }
  if (turns !== undefined && step !== undefined) throw new UsageError('give --turns or --step, not both');
  if (step !== undefined && step === 0) throw new UsageError('--step must not be 0');
  if (!(doubt >= 0 && doubt <= 45)) throw new UsageError(`--doubt must lie between 0 and 45, not ${doubt}`);
  const told = turns === undefined ? [] : readTurns(turns);
  if (told.length > photographs.length) {
    throw new UsageError(`--turns gives ${told.length} turns for ${photographs.length} photographs`);
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
      throw new UsageError(`--turns needs numbers with commas between, such as -10,-5,0,5,10, not "${text}"`);
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
  terminal.print(json ? `${JSON.stringify(record)}\n` : renderPortShots(record));
  return record.outcome === 'compared' ? EXIT.measured : EXIT.refused;
}
