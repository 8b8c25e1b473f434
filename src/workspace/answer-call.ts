/** A call by name with any input -> the answer of its handler. What is not as the contract says never reaches one. */
import type { Outcome } from '../contract/failures.ts';
import { type Checked, type Output, type ProcedureName, PROCEDURES } from '../contract/procedures.ts';
import { readHouse } from '../record/house.ts';
import { translateFailure } from '../wording/failures.ts';
import { translateRefusal } from '../wording/refusals.ts';

export type Handlers = {
  readonly [P in ProcedureName]: (input: Checked<P>) => Outcome<Output<P>> | Promise<Outcome<Output<P>>>;
};

export async function answerCall(handlers: Handlers, name: string, input: unknown): Promise<Outcome<unknown>> {
  if (!isProcedure(name)) return { ok: false, failure: translateFailure('unknown-procedure') };
  const checked = PROCEDURES[name].input.safeParse(input);
  if (checked.success) return (handlers[name] as (input: unknown) => Promise<Outcome<unknown>>)(checked.data);
  if (name === 'house.set') {
    const refused = refuseHouse((input as { house?: unknown } | null)?.house);
    if (refused) return refused;
  }
  const [issue] = checked.error.issues;
  const detail = [issue?.path.join('.'), issue?.message].filter(Boolean).join(', ');
  return { ok: false, failure: translateFailure('invalid-input', { detail }) };
}

function isProcedure(name: string): name is ProcedureName {
  return Object.hasOwn(PROCEDURES, name);
}

/** Why a house cannot be used, in the words of the command line; undefined where it can. */
function refuseHouse(house: unknown): Outcome<never> | undefined {
  const read = readHouse(house);
  return read.outcome === 'refused'
    ? { ok: false, failure: { code: read.code, ...translateRefusal(read.code, read.facts, null) } }
    : undefined;
}
