/** What port shots gave, as the record of it, still without words: against what the house expects, and as an answer to a check. */
import type { CheckAnswer } from '../../diagnosis/choose-check.ts';
import type { Eye } from '../../kernel/eye.ts';
import type { ComparedPorts, JudgedPort } from '../../light/compare-ports.ts';
import { PORT_SHOTS_SCHEMA, type PortsVerdictName, type UnwordedPortShots } from '../../record/port-shots.ts';
import { comparePortShots, type PlacedPort, type PortShots, type PortShotsResult } from './compare-port-shots.ts';

/** Which eye's picture leaves by the upper port where no house says it: common practice, no source. */
const DEFAULT_UPPER: Eye = 'right';

export interface PortsRequest extends PortShots {
  /** As the house has it; common practice where left out. */
  readonly upperPortShows?: Eye;
  readonly softwareVersion: string;
}

/** The whole comparison: photographs -> the record of it, without words. */
export async function reportPorts({
  upperPortShows,
  softwareVersion,
  ...shots
}: PortsRequest): Promise<UnwordedPortShots> {
  return describePorts(shots, await comparePortShots(shots), upperPortShows, softwareVersion);
}

export function describePorts(
  { left, right }: PortShots,
  result: PortShotsResult,
  upperPortShows: Eye | undefined,
  softwareVersion: string,
): UnwordedPortShots {
  const common = {
    schema: PORT_SHOTS_SCHEMA,
    software: { name: 'twinplumb', version: softwareVersion },
    files: { left: left.name, right: right.name },
  } as const;
  if (result.outcome === 'refused') {
    const { code, facts } = result.refusal;
    const shot = result.lens === null ? null : (`${result.lens}-lens` as const);
    return { ...common, outcome: 'refused', refusal: { code, facts, shot } };
  }
  const { ports, arrangement, places, size, notes } = result;
  const isAbove = arrangement === 'above';
  const expected = isAbove
    ? ({ upper_port_shows: upperPortShows ?? DEFAULT_UPPER, by: upperPortShows ? 'house' : 'common-practice' } as const)
    : null;
  const verdict = nameVerdict(ports, expected?.upper_port_shows);
  return {
    ...common,
    outcome: 'compared',
    verdict,
    expected,
    ports: [
      describePort(isAbove ? 'upper' : 'left', ports.first, places.first),
      describePort(isAbove ? 'lower' : 'right', ports.second, places.second),
    ],
    size,
    answer: answerOf(verdict),
    notes,
  };
}

function nameVerdict({ verdict, firstServes }: ComparedPorts, upperShows: Eye | undefined): PortsVerdictName {
  if (verdict !== 'each-its-own' || upperShows === undefined) return verdict;
  return firstServes === upperShows ? 'as-expected' : 'exchanged';
}

/** The look at the ports is a check of the causes; both ports dark to one eye is none of its answers. */
function answerOf(verdict: PortsVerdictName): CheckAnswer | null {
  const answer = ANSWERS[verdict];
  return answer === undefined ? null : { check: 'look-at-ports-through-glasses', answer };
}

const ANSWERS: Readonly<Partial<Record<PortsVerdictName, string>>> = {
  'as-expected': 'dark-to-the-other-eye',
  exchanged: 'dark-to-its-own-eye',
  'one-neither': 'one-dark-to-neither',
  'both-neither': 'both-dark-to-neither',
};

function describePort(
  place: 'upper' | 'lower' | 'left' | 'right',
  port: JudgedPort,
  { centre, radius_px }: PlacedPort,
) {
  return {
    place,
    dark_to: port.darkTo,
    kept_pct: { value: 100 * port.ratio.value, u: 100 * Math.min(port.ratio.u, 1e6) },
    darker_through: port.darkerThrough,
    angle_deg: port.angle_deg,
    x_px: centre.x,
    y_px: centre.y,
    radius_px,
  };
}
