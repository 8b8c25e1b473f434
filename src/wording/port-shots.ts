/** Port shots in words: which port serves which eye, and what to do where it is wrong. */
import type { ComparedPortShots, PortShotsRecord, UnwordedPortShots } from '../record/port-shots.ts';
import { chooseCautions } from './cautions.ts';
import { decimalsForUncertainty, formatNumber } from './numbers.ts';
import { translatePortRefusal } from './port-refusals.ts';

type Compared = Extract<UnwordedPortShots, { outcome: 'compared' }>;
type Port = ComparedPortShots['ports'][number];

const NOTES: Readonly<Record<string, string>> = {
  'exposure-differs': 'The photographs were exposed differently; it was reckoned with, as the files state it.',
  'exposure-unknown':
    'The files do not tell how they were exposed; the verdict takes both as alike, set by hand and left alone.',
  'burnt-out': 'A bright port is burnt out: what is dark is darker still against it.',
  'steadiness-unknown':
    'No port shows through both lenses, so that nothing tells whether the camera kept still; if it was touched between the two, take both again.',
};

export const PORT_NOTE_CODES: readonly string[] = Object.keys(NOTES);

const CAUTIONS = { atProjector: false, atHeight: false, atLitPort: true } as const;

/** Throws RangeError on a code without wording: that is a fault of the program. */
export function translatePortShots(shots: UnwordedPortShots): PortShotsRecord {
  if (shots.outcome === 'refused') {
    const { code, facts, shot } = shots.refusal;
    const refusal = { code, ...translatePortRefusal(code, facts, shot), shot, facts };
    return { ...shots, refusal, cautions: chooseCautions(CAUTIONS) };
  }
  const isWrong = shots.verdict !== 'as-expected' && shots.verdict !== 'each-its-own' && shots.verdict !== 'unclear';
  return {
    ...shots,
    sentence: composePortSentence(shots),
    notes: shots.notes.map((code) => ({ code, message: translatePortNote(code) })),
    cautions: chooseCautions({ ...CAUTIONS, atProjector: isWrong, atPolarizer: isWrong }),
  };
}

export function translatePortNote(code: string): string {
  const words = NOTES[code];
  if (words === undefined) throw new RangeError(`no wording for the note "${code}"`);
  return words;
}

export function composePortSentence({ verdict, expected, ports }: Compared): string {
  const [first, second] = ports as [Port, Port];
  switch (verdict) {
    case 'as-expected':
      return `The upper port is dark to the ${first.dark_to} eye and the lower one to the ${second.dark_to} eye, as ${expected?.by === 'house' ? 'the house has it' : 'is common practice'}: each serves its own eye.`;
    case 'exchanged':
      return `The ports are exchanged: the upper one is dark to the ${first.dark_to} eye and the lower one to the ${second.dark_to} eye, the other way round than ${expected?.by === 'house' ? 'the house has it' : 'is common practice'}.`;
    case 'each-its-own':
      return `The port on the left is dark to the ${first.dark_to} eye and the port on the right to the ${second.dark_to} eye: each serves one eye.`;
    case 'both-one-eye':
      return `Both ports are dark to the ${first.dark_to} eye: one polarizer stands a quarter turn off.`;
    case 'one-neither': {
      const lost = ports.find(({ dark_to }) => dark_to === 'neither')!;
      return `The ${namePort(lost)} is dark to neither eye: its polarizer is missing, burnt through or turned by half a right angle, or what stands before it spoils the polarization.`;
    }
    case 'both-neither':
      return 'Neither port is dark to either eye: the polarizers are missing, or they and the glasses are of different kinds.';
    case 'unclear':
      return `The photographs do not tell: ${ports.map((port) => `the ${namePort(port)} keeps ${formatKept(port)} through the ${port.darker_through} lens`).join(', ')}, where a port that serves one eye keeps under 25 %.`;
  }
}

export function namePort({ place }: Pick<Port, 'place'>): string {
  return place === 'upper' || place === 'lower' ? `${place} port` : `port on the ${place}`;
}

export function formatDarkTo({ dark_to }: Pick<Port, 'dark_to'>): string {
  if (dark_to === 'neither') return 'dark to neither eye';
  return dark_to === 'unclear' ? 'cannot be told' : `dark to the ${dark_to} eye`;
}

/** `0.8 ± 0.4 %` of its light. */
export function formatKept({ kept_pct: { value, u } }: Pick<Port, 'kept_pct'>): string {
  if (u > 100) return 'any part of its light';
  const decimals = Math.min(1, decimalsForUncertainty(u));
  return `${formatNumber(value, decimals)} ± ${formatNumber(2 * u, decimals)} %`;
}
