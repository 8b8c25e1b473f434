/** `evenness`: photographs of the target or of the open gate -> how even the light is, and what both eyes get. */
import { inCandela, readingOf } from '../../../application/light/default-chain.ts';
import type { LightRequest, StatedReading } from '../../../application/light/describe-light.ts';
import { ASPECT_RANGE } from '../../../kernel/aspect.ts';
import type { UnwordedEvenness } from '../../../record/evenness.ts';
import type { LightPlace, LitPicture } from '../../../record/light-codes.ts';
import { translateEvenness } from '../../../wording/light.ts';
import { EXIT, type ExitStatus, UsageError } from '../exit-status.ts';

export interface EvennessOptions {
  readonly left?: string;
  readonly right?: string;
  readonly bare?: string;
  readonly openGate?: boolean;
  readonly flat?: string;
  readonly panned?: string;
  /** In `unit`. */
  readonly meter?: number;
  readonly meterU?: number;
  readonly unit?: 'cd/m2' | 'fL';
  readonly meterAt?: LightPlace;
  readonly meterOf?: 'left' | 'right' | 'bare';
  readonly throughGlasses?: boolean;
  readonly house?: string;
  readonly aspect?: number;
  readonly json?: boolean;
}

export interface EvennessWorld {
  readonly describeLight: (request: LightRequest) => Promise<UnwordedEvenness>;
  readonly softwareVersion: string;
  readonly print: (text: string) => void;
}

export async function runEvenness(order: EvennessOptions, world: EvennessWorld): Promise<ExitStatus> {
  const record = translateEvenness(await world.describeLight(await requestOf(order, world.softwareVersion)));
  if (order.json) world.print(`${JSON.stringify(record)}\n`);
  else {
    const { renderTextEvenness } = await import('../../../report/text/render-evenness.ts');
    world.print(renderTextEvenness(record));
  }
  return record.outcome === 'measured' ? EXIT.measured : EXIT.refused;
}

async function requestOf(order: EvennessOptions, softwareVersion: string): Promise<LightRequest> {
  const { left, right, bare, flat, panned, openGate } = order;
  const pictures = [
    ...(left === undefined ? [] : [{ path: left, name: left, role: 'left-lens' as const }]),
    ...(right === undefined ? [] : [{ path: right, name: right, role: 'right-lens' as const }]),
    ...(bare === undefined ? [] : [{ path: bare, name: bare, role: 'bare' as const }]),
  ];
  if (pictures.length === 0) throw new UsageError('give at least one photograph: --left, --right or --bare');
  if (bare !== undefined && pictures.length > 1) {
    throw new UsageError('--bare stands alone: light through glasses and light without them do not compare');
  }
  if (flat !== undefined && panned !== undefined) throw new UsageError('give --flat or --panned, not both');
  const aspect = await aspectOf(order);
  const meter = readMeter(order);
  return {
    subject: openGate ? 'open-gate' : 'target',
    pictures,
    ...(flat === undefined ? {} : { flat: { path: flat, name: flat } }),
    ...(panned === undefined ? {} : { turned: { path: panned, name: panned } }),
    ...(meter === undefined ? {} : { meter }),
    ...(aspect === undefined ? {} : { aspect }),
    softwareVersion,
  };
}

async function aspectOf({ aspect, house }: EvennessOptions): Promise<number | undefined> {
  const { min: least, max: most } = ASPECT_RANGE;
  if (aspect !== undefined && !(aspect >= least && aspect <= most)) {
    throw new UsageError(`--aspect must lie between ${least} and ${most}, not ${aspect}`);
  }
  if (aspect !== undefined || house === undefined) return aspect;
  return (await (await import('../read-house-file.ts')).readHouseFile(house)).screen.picture_aspect;
}

function readMeter(order: EvennessOptions): StatedReading | undefined {
  const { meter, meterU, unit, meterAt, throughGlasses } = order;
  if (meter === undefined) {
    const alone = { meterU, unit, meterAt, throughGlasses, meterOf: order.meterOf };
    if (Object.values(alone).some((given) => given !== undefined)) {
      throw new UsageError(
        '--meter-u, --unit, --meter-at, --meter-of and --through-glasses say more of a reading: give it with --meter',
      );
    }
    return undefined;
  }
  if (!(meter > 0)) throw new UsageError(`--meter must be a luminance above zero, not ${meter}`);
  return {
    of: pictureRead(order),
    place: meterAt ?? 'centre',
    luminance_cd_m2: inCandela(readingOf(meter, meterU), unit ?? 'cd/m2'),
    throughGlasses: throughGlasses === true,
  };
}

/** Of the target an eye's picture was read, of the open gate the light through a lens or none. */
function pictureRead({ left, right, bare, meterOf, openGate }: EvennessOptions): LitPicture {
  const given = [left && 'left', right && 'right', bare && 'bare'].filter(Boolean) as ('left' | 'right' | 'bare')[];
  const of = meterOf ?? (given.length === 1 ? given[0] : undefined);
  if (of === undefined || (of === 'bare' && !openGate)) {
    throw new UsageError('say with --meter-of whose picture the meter read: left or right');
  }
  if (of === 'bare') return 'bare';
  return openGate ? `${of}-lens` : `${of}-eye`;
}
