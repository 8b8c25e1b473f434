import { describe, expect, it } from 'vitest';
import { LIGHT_CHAIN_SCHEMA, type LightChain, readLightChain } from '../../src/record/light-chain.ts';
import { listLightChainProblems, translateInvalidLightChain } from '../../src/wording/refusals.ts';

const chain: LightChain = {
  schema: LIGHT_CHAIN_SCHEMA,
  start: { luminance_cd_m2: { value: 55, u: 2 } },
  steps: [{ code: 'polarizer', factor: { value: 0.38, u: 0.03 }, source: 'the house', basis: 'house' }],
};

function refusalOf(json: unknown) {
  const read = readLightChain(json);
  if (read.outcome === 'read') throw new Error('it was read');
  return read.facts;
}

describe('readLightChain', () => {
  it('reads a chain as it is', () => {
    expect(readLightChain(chain)).toEqual({ outcome: 'read', chain });
  });

  it('takes a reading in any one unit, and not in two or none', () => {
    expect(readLightChain({ ...chain, start: { illuminance_lx: { value: 300, u: 10 } } }).outcome).toBe('read');
    expect(readLightChain({ ...chain, start: { luminance_fL: { value: 16, u: 1 } } }).outcome).toBe('read');
    for (const start of [{}, { ...chain.start, luminance_fL: { value: 16, u: 1 } }]) {
      const facts = refusalOf({ ...chain, start });
      expect(facts).toMatchObject({ reason: 'problems', path_1: 'start', problem_1: 'one-start-needed' });
      expect(translateInvalidLightChain(facts).message).toContain('needs exactly one reading');
    }
  });

  it('a step of the house’s own needs a name', () => {
    const other = { ...chain.steps[0]!, code: 'other' as const };
    expect(refusalOf({ ...chain, steps: [other] })).toMatchObject({
      path_1: 'steps[0].label',
      problem_1: 'label-needed',
    });
    expect(readLightChain({ ...chain, steps: [{ ...other, label: 'Heat filter' }] }).outcome).toBe('read');
  });

  it('lists every problem in words', () => {
    const facts = refusalOf({ ...chain, tint: 1, steps: [{ ...chain.steps[0], factor: { value: 0, u: -1 } }] });
    expect(listLightChainProblems(facts).toSorted()).toEqual([
      'steps[0].factor.u is too small, at least 0 is needed',
      'steps[0].factor.value is too small, at least 0.001 is needed',
      'tint is not a field of a light chain',
    ]);
    expect(translateInvalidLightChain(facts).message).toContain('(and 2 more)');
  });

  it('tells strangers and newer ones apart', () => {
    expect(refusalOf({})).toMatchObject({ reason: 'not-a-light-chain' });
    expect(refusalOf({ schema: 'twinplumb.house/1' })).toMatchObject({ reason: 'not-a-light-chain' });
    const newer = refusalOf({ ...chain, schema: 'twinplumb.light-chain/2' });
    expect(newer).toMatchObject({ reason: 'newer-version' });
    expect(translateInvalidLightChain(newer).message).toContain('newer Twinplumb');
  });
});
