/** `evenness`: photographs of the target or of the open gate -> how even the light is, and what both eyes get. */
import { inCandela, readingOf } from '../../../application/light/default-chain.ts';
import type { LightRequest, StatedReading } from '../../../application/light/describe-light.ts';
import { ASPECT_RANGE } from '../../../kernel/aspect.ts';
import type { UnwordedEvenness } from '../../../record/evenness.ts';
import type { LightPlace, LitPicture } from '../../../record/light-codes.ts';
import type { TextStyle } from '../../../report/text/text-layout.ts';
import { formatJsonLine } from '../../../wording/make-safe.ts';
import { translateEvenness } from '../../../wording/light.ts';
import { EXIT, type ExitStatus, requireRange, wrongUsage } from '../exit-status.ts';

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
  readonly style?: TextStyle | undefined;
}

export async function runEvenness(options: EvennessOptions, world: EvennessWorld): Promise<ExitStatus> {
  const record = translateEvenness(await world.describeLight(await requestOf(options, world.softwareVersion)));
  if (options.json) world.print(formatJsonLine(record));
  else {
    const { renderTextEvenness } = await import('../../../report/text/render-evenness.ts');
    world.print(renderTextEvenness(record, world.style));
  }
  return record.outcome === 'measured' ? EXIT.measured : EXIT.refused;
}

async function requestOf(options: EvennessOptions, softwareVersion: string): Promise<LightRequest> {
  const { left, right, bare, flat, panned, openGate } = options;
  const pictures = [
    ...(left === undefined ? [] : [{ path: left, name: left, role: 'left-lens' as const }]),
    ...(right === undefined ? [] : [{ path: right, name: right, role: 'right-lens' as const }]),
    ...(bare === undefined ? [] : [{ path: bare, name: bare, role: 'bare' as const }]),
  ];
  if (pictures.length === 0) throw wrongUsage('photograph-needed');
  if (bare !== undefined && pictures.length > 1) {
    throw wrongUsage('bare-stands-alone');
  }
  if (flat !== undefined && panned !== undefined) throw wrongUsage('flat-or-panned');
  const aspect = await aspectOf(options);
  const meter = readMeter(options);
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
  requireRange('--aspect', aspect, ASPECT_RANGE.min, ASPECT_RANGE.max);
  if (aspect !== undefined || house === undefined) return aspect;
  return (await (await import('../read-house-file.ts')).readHouseFile(house)).screen.picture_aspect;
}

function readMeter(options: EvennessOptions): StatedReading | undefined {
  const { meter, meterU, unit, meterAt, throughGlasses } = options;
  if (meter === undefined) {
    const alone = { meterU, unit, meterAt, throughGlasses, meterOf: options.meterOf };
    if (Object.values(alone).some((given) => given !== undefined)) {
      throw wrongUsage('meter-missing');
    }
    return undefined;
  }
  if (!(meter > 0)) throw wrongUsage('meter-range', { value: String(meter) });
  return {
    of: pictureRead(options),
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
    throw wrongUsage('meter-of-missing');
  }
  if (of === 'bare') return 'bare';
  return openGate ? `${of}-lens` : `${of}-eye`;
}
