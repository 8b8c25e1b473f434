/** Polarizers in words: what to turn to the null, which way and how far; which port serves which eye. */
import type { FoundNullSearch, NullSearchRecord, UnwordedNullSearch } from '../record/null-search.ts';
import type { ComparedPortShots, PortShotsRecord, UnwordedPortShots } from '../record/port-shots.ts';
import { openTopic } from './catalogue.ts';
import { chooseCautions } from './cautions.ts';
import messages from './en/polarizers.json' with { type: 'json' };
import { decimalsForUncertainty, formatFigures, formatNumber } from './numbers.ts';
import { translateNullRefusal, translatePortRefusal } from './refusals.ts';

const { keys, translate, translateCode } = openTopic(messages);

type Found = Extract<UnwordedNullSearch, { outcome: 'found' }>;
type Measured = FoundNullSearch['least_leak_pct'];
type Compared = Extract<UnwordedPortShots, { outcome: 'compared' }>;
type Port = ComparedPortShots['ports'][number];

const codesUnder = (prefix: string): string[] =>
  keys.filter((key) => key.startsWith(prefix)).map((key) => key.slice(prefix.length));

export const NULL_NOTE_CODES: readonly string[] = codesUnder('null-note.');
export const PORT_NOTE_CODES: readonly string[] = codesUnder('port-note.');

/** Throws RangeError on a code without wording: that is a fault of the program. */
export function translateNullSearch(search: UnwordedNullSearch): NullSearchRecord {
  if (search.outcome === 'refused') {
    const { code, facts, file } = search.refusal;
    return { ...search, refusal: { code, ...translateNullRefusal(code, facts), file, facts } };
  }
  return {
    ...search,
    sentence: composeNullSentence(search),
    notes: search.notes.map((code) => ({ code, message: translateNullNote(code) })),
    cautions: chooseCautions({
      atProjector: search.turned === 'polarizer',
      atHeight: false,
      atPolarizer: search.turned === 'polarizer',
    }),
  };
}

export function translateNullNote(code: string): string {
  return translateCode(`null-note.${code}`);
}

/** What is turned: `the polarizer of the right-eye picture`. */
function nameTurned({ turned, lens }: Pick<Found, 'turned' | 'lens'>): string {
  return translate(`turned.${turned}`, { lens });
}

export function composeNullSentence(search: Found): string {
  const { turned, lens, verdict } = search;
  switch (verdict) {
    case 'at-null':
      return translate(`at-null.${turned}`, { lens, doubt: formatDoubt(search) });
    case 'uncertain':
      return translate('uncertain', { doubt: formatDoubt(search) });
    case 'turn':
      return translate('turn', {
        thing: nameTurned(search),
        way: formatWay(search),
        lens,
        now: formatLeak(search.shots.at(-1)!.leak_pct),
        min: formatLeak(search.least_leak_pct),
      });
    case 'go-on':
      return translate('go-on', { thing: nameTurned(search), way: formatWay(search) });
  }
}

/** `4.1° further, to 3.2° on your scale (± 0.3°)`. */
function formatWay({ further_deg, further_steps, null_deg, shots }: Found): string {
  if (null_deg && further_deg) {
    const decimals = angleDecimals(further_deg);
    const [last, before] = [shots[shots.length - 1]!, shots[shots.length - 2]!];
    const isOnward = Math.sign(further_deg.value) === Math.sign(last.turn_deg! - before.turn_deg!);
    return translate('way.degrees', {
      amount: formatNumber(Math.abs(further_deg.value), decimals),
      way: isOnward ? 'onward' : 'back',
      null: formatNumber(null_deg.value, decimals),
      doubt: formatNumber(2 * null_deg.u, decimals),
    });
  }
  const steps = further_steps!;
  const decimals = Math.min(2, decimalsForUncertainty(2 * steps.u));
  return translate('way.steps', {
    amount: formatNumber(Math.abs(steps.value), decimals),
    way: steps.value < 0 ? 'back' : 'onward',
    doubt: formatNumber(2 * steps.u, decimals),
    degrees: further_deg ? formatNumber(Math.abs(further_deg.value), angleDecimals(further_deg)) : undefined,
  });
}

function formatDoubt({ further_deg, further_steps }: Found): string {
  if (further_deg) return translate('doubt.degrees', { doubt: formatFigures(2 * further_deg.u, 2, 1) });
  return translate('doubt.steps', { doubt: formatFigures(2 * further_steps!.u, 2, 2) });
}

/** A ghost is never less than nothing. */
export function formatLeak({ value, u }: Measured): string {
  return translate('leak', { value: formatNumber(Math.max(0, value), Math.min(2, decimalsForUncertainty(u))) });
}

/** `1.23 ± 0.05 %` */
export function formatLeakWithDoubt({ value, u }: Measured): string {
  const decimals = Math.min(2, decimalsForUncertainty(u));
  return translate('leak.interval', { value: formatNumber(value, decimals), doubt: formatNumber(2 * u, decimals) });
}

function angleDecimals({ u }: Measured): number {
  return Math.min(1, decimalsForUncertainty(u));
}

const AT_THE_PORT = { atProjector: false, atHeight: false, atLitPort: true } as const;

/** Throws RangeError on a code without wording: that is a fault of the program. */
export function translatePortShots(shots: UnwordedPortShots): PortShotsRecord {
  if (shots.outcome === 'refused') {
    const { code, facts, shot } = shots.refusal;
    const refusal = { code, ...translatePortRefusal(code, facts, shot), shot, facts };
    return { ...shots, refusal, cautions: chooseCautions(AT_THE_PORT) };
  }
  const isWrong = shots.verdict !== 'as-expected' && shots.verdict !== 'each-its-own' && shots.verdict !== 'unclear';
  return {
    ...shots,
    sentence: composePortSentence(shots),
    notes: shots.notes.map((code) => ({ code, message: translatePortNote(code) })),
    cautions: chooseCautions({ ...AT_THE_PORT, atProjector: isWrong, atPolarizer: isWrong }),
  };
}

export function translatePortNote(code: string): string {
  return translateCode(`port-note.${code}`);
}

export function composePortSentence({ verdict, expected, ports }: Compared): string {
  const [first, second] = ports as [Port, Port];
  switch (verdict) {
    case 'one-neither':
      return translate('ports.one-neither', { port: namePort(ports.find(({ dark_to }) => dark_to === 'neither')!) });
    case 'unclear':
      return translate('ports.unclear', {
        ports: ports
          .map((port) =>
            translate('ports.unclear-port', {
              port: namePort(port),
              kept: formatKept(port),
              lens: port.darker_through,
            }),
          )
          .join(', '),
      });
    default:
      return translate(`ports.${verdict}`, { first: first.dark_to, second: second.dark_to, by: expected?.by });
  }
}

export function namePort({ place }: Pick<Port, 'place'>): string {
  return translate(`port.${place}`);
}

export function formatDarkTo({ dark_to }: Pick<Port, 'dark_to'>): string {
  return translate('dark-to', { eye: dark_to });
}

/** `0.8 ± 0.4 %` of its light. */
export function formatKept({ kept_pct: { value, u } }: Pick<Port, 'kept_pct'>): string {
  if (u > 100) return translate('kept.any');
  const decimals = Math.min(1, decimalsForUncertainty(u));
  return translate('kept', { value: formatNumber(value, decimals), doubt: formatNumber(2 * u, decimals) });
}
