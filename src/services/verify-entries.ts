/** Everything that a logbook holds is checked, and each reading measured again from its photographs. */
import type { MeasureRequest } from '../application/measure-photographs.ts';
import {
  type Problem,
  type Remeasurement,
  type VerifyOptions,
  verifyLogbook,
  type VerifyReport,
} from '../logbook/verify-logbook.ts';
import type { UnwordedReading } from '../record/reading.ts';
import { translateLogbook } from '../wording/failures.ts';
import { translateReading } from '../wording/reading.ts';

export interface VerifyRequest extends Omit<VerifyOptions, 'measure'> {
  /** Left out: hashes and links only. */
  readonly measure?: ((request: MeasureRequest) => Promise<UnwordedReading>) | undefined;
}

export function verifyEntries({ measure, ...request }: VerifyRequest): Promise<VerifyReport> {
  return verifyLogbook({
    ...request,
    ...(measure && {
      measure: async (again) => translateReading(await measure(requestRemeasurement(again, request.softwareVersion))),
    }),
  });
}

/** A fault of a logbook or of a bundle in words. */
export interface TranslatedProblem {
  readonly code: string;
  /** The record that it concerns. */
  readonly id: string | null;
  readonly file: string | null;
  readonly message: string;
  readonly remedy: string;
}

export function translateProblem({ code, id, file, facts }: Problem): TranslatedProblem {
  return { code, id, file, ...translateLogbook(code, facts) };
}

/** What gives a kept reading once more: the same photographs, names, house and parameters. */
function requestRemeasurement(
  { photographs, house, parameters }: Remeasurement,
  softwareVersion: string,
): MeasureRequest {
  const { aspect, wander_px, closing_wander_px = null } = parameters;
  return {
    photographs,
    ...(house && { house }),
    ...(aspect !== null && { aspect }),
    ...(wander_px && { wander_px }),
    ...(closing_wander_px && { closingWander_px: closing_wander_px }),
    softwareVersion,
  };
}
