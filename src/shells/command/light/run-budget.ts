/** `budget`: a light chain, from a file or the usual one -> what is left at the eye. */
import { computeBudget } from '../../../application/light/compute-budget.ts';
import { defaultChain, readingOf } from '../../../application/light/default-chain.ts';
import { type ChainStep, type LightChain, readLightChain } from '../../../record/light-chain.ts';
import { STEP_CODES } from '../../../record/light-codes.ts';
import type { TextStyle } from '../../../report/text/text-layout.ts';
import { writeAtomically } from '../../../storage/write-atomically.ts';
import { formatJsonLine } from '../../../wording/make-safe.ts';
import { translateCommand } from '../../../wording/command.ts';
import { translateBudget, translateChain } from '../../../wording/light.ts';
import { listLightChainProblems, translateInvalidLightChain } from '../../../wording/refusals.ts';
import { claimPlace, OWN } from '../claim-place.ts';
import { blameNamedPlace, EXIT, type ExitStatus, UsageError, wrongUsage } from '../exit-status.ts';
import { readHouseFile, readJsonFile } from '../read-house-file.ts';

export type StartUnit = 'cd/m2' | 'fL' | 'lx';

export interface BudgetOptions {
  readonly chain?: string;
  /** In `unit`. */
  readonly start?: number;
  readonly startU?: number;
  readonly unit?: StartUnit;
  readonly house?: string;
  /** `20.95x11.32`, mm. */
  readonly readAperture?: string;
  /** m */
  readonly readWidth?: number;
  readonly matt?: boolean;
  /** `polarizer=0.36` or `polarizer=0.36:0.01`. */
  readonly set?: readonly string[];
  readonly without?: readonly string[];
  readonly save?: string;
  readonly force?: boolean;
  readonly json?: boolean;
}

export interface BudgetWorld {
  readonly softwareVersion: string;
  readonly print: (text: string) => void;
  readonly remark: (text: string) => void;
  readonly style?: TextStyle | undefined;
}

export async function runBudget(options: BudgetOptions, world: BudgetWorld): Promise<ExitStatus> {
  const { save, force = false } = options;
  const claim = { inputs: [options.chain, options.house].filter((file) => file !== undefined), own: OWN.chain, force };
  const place = save === undefined ? undefined : await claimPlace(save, claim);
  const chain = checkChain(changeSteps(await chainOf(options), options));
  const budget = translateBudget(computeBudget(chain, world.softwareVersion));
  if (options.json) world.print(formatJsonLine(budget));
  else {
    const { renderTextBudget } = await import('../../../report/text/render-budget.ts');
    world.print(renderTextBudget(budget, world.style));
  }
  if (place !== undefined) {
    await writeAtomically(place, `${JSON.stringify(chain, null, 2)}\n`).catch((error: unknown) => {
      throw blameNamedPlace(error, 'chain-unwritten', save!);
    });
    world.remark(`${translateCommand('chain-written', { place: save! })}\n`);
  }
  return EXIT.measured;
}

async function chainOf(options: BudgetOptions): Promise<LightChain> {
  const { chain, start, startU, unit, house, readAperture, readWidth, matt } = options;
  if (chain !== undefined) {
    const beside = { start, startU, unit, house, readAperture, readWidth, matt };
    if (Object.values(beside).some((given) => given !== undefined)) {
      throw wrongUsage('chain-stands-alone');
    }
    return readChainFile(chain);
  }
  if (start === undefined) throw wrongUsage('chain-or-start');
  const reading = readingOf(start, startU);
  const fields = { 'cd/m2': 'luminance_cd_m2', fL: 'luminance_fL', lx: 'illuminance_lx' } as const;
  return translateChain(
    defaultChain({
      start: { [fields[unit ?? 'cd/m2']]: reading },
      readFromMetallicScreen: unit !== 'lx' && matt !== true,
      ...(house === undefined ? {} : { house: await readHouseFile(house) }),
      ...(readAperture === undefined ? {} : { readAperture_mm: parseAperture(readAperture) }),
      ...(readWidth === undefined ? {} : { readWidth_m: readWidth }),
    }),
  );
}

function parseAperture(text: string): { width: number; height: number } {
  const [width, height] = (/^(\d+(?:\.\d+)?)x(\d+(?:\.\d+)?)$/.exec(text)?.slice(1) ?? []).map(Number);
  if (!(width! > 0 && height! > 0)) {
    throw wrongUsage('aperture-form', { value: text });
  }
  return { width: width!, height: height! };
}

/** Factors in place of those of the chain, and steps left out. */
function changeSteps(chain: LightChain, { set = [], without = [] }: BudgetOptions): LightChain {
  const find = (code: string): ChainStep => {
    const step = chain.steps.find((other) => other.code === code);
    if (!step)
      throw wrongUsage('no-such-step', { step: code, steps: chain.steps.map((other) => other.code).join(', ') });
    return step;
  };
  for (const code of without) find(code);
  const factors = new Map(
    set.map((text) => {
      const [, code, value, u] = /^([a-z-]+)=(\d+(?:\.\d+)?)(?::(\d+(?:\.\d+)?))?$/.exec(text) ?? [];
      if (code === undefined || !STEP_CODES.some((known) => known === code)) {
        throw wrongUsage('set-form', { value: text });
      }
      find(code);
      return [code, { value: Number(value), u: u === undefined ? undefined : Number(u) }] as const;
    }),
  );
  const steps = chain.steps
    .filter(({ code }) => !without.includes(code))
    .map((step): ChainStep => {
      const given = factors.get(step.code);
      if (!given) return step;
      // Without an uncertainty of its own a factor is taken to be known as well, in proportion, as the one that it replaces.
      const u = given.u ?? (step.factor.u / step.factor.value) * given.value;
      return { ...step, factor: { value: given.value, u }, source: translateCommand('set-source'), basis: 'house' };
    });
  return { ...chain, steps };
}

/** What came from options must hold to the same rules as a file. */
function checkChain(chain: LightChain): LightChain {
  const read = readLightChain(chain);
  if (read.outcome === 'refused') throw refuseChain(read.facts);
  return read.chain;
}

/** A light chain's file -> the chain, or what is wrong with it as a usage error. */
async function readChainFile(path: string): Promise<LightChain> {
  const read = readLightChain(await readJsonFile(path, refuseChain));
  if (read.outcome === 'read') return read.chain;
  throw refuseChain(read.facts);
}

function refuseChain(facts: Readonly<Record<string, number | string>>): UsageError {
  const { message, remedy } = translateInvalidLightChain(facts);
  const problems = listLightChainProblems(facts);
  return new UsageError(
    [message, ...(problems.length > 1 ? problems.map((problem) => `  - ${problem}`) : []), remedy].join('\n'),
  );
}
