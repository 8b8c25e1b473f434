import { describe, expect, it } from 'vitest';
import type { LightRequest } from '../../../../src/application/light/describe-light.ts';
import type { UnwordedEvenness } from '../../../../src/record/evenness.ts';
import { UsageError } from '../../../../src/shells/command/exit-status.ts';
import { type EvennessOptions, runEvenness } from '../../../../src/shells/command/light/run-evenness.ts';

const refusal: UnwordedEvenness = {
  schema: 'twinplumb.evenness/1',
  outcome: 'refused',
  software: { name: 'twinplumb', version: '9.9.9' },
  subject: 'target',
  refusal: { code: 'camera-not-turned', shot: 'turned-camera', file: 'b.jpg', facts: { corner_u_pct: 31 } },
};

async function run(order: EvennessOptions) {
  const requests: LightRequest[] = [];
  const printed: string[] = [];
  const status = await runEvenness(order, {
    describeLight: async (request) => {
      requests.push(request);
      return refusal;
    },
    softwareVersion: '9.9.9',
    print: (text) => printed.push(text),
  });
  return { status, text: printed.join(''), request: requests[0]! };
}

describe('evenness', () => {
  it('prints a refusal with its remedy and status 2, as JSON too', async () => {
    const { status, text } = await run({ left: 'a.jpg', panned: 'b.jpg' });
    expect(status).toBe(2);
    expect(text).toMatch(/^The camera was hardly panned[\s\S]*\n\nPan so far/);
    const printed = (await run({ left: 'a.jpg', json: true })).text;
    expect(JSON.parse(printed)).toMatchObject({
      outcome: 'refused',
      refusal: { code: 'camera-not-turned', shot: 'turned-camera', file: 'b.jpg', remedy: expect.any(String) },
    });
  });

  it('hands photographs on by what they are', async () => {
    const { request } = await run({ left: 'a.jpg', right: 'b.jpg', flat: 'c.jpg', aspect: 1.85 });
    expect(request).toEqual({
      subject: 'target',
      pictures: [
        { path: 'a.jpg', name: 'a.jpg', role: 'left-lens' },
        { path: 'b.jpg', name: 'b.jpg', role: 'right-lens' },
      ],
      flat: { path: 'c.jpg', name: 'c.jpg' },
      aspect: 1.85,
      softwareVersion: '9.9.9',
    });
    expect((await run({ bare: 'a.jpg', openGate: true, panned: 'd.jpg' })).request).toMatchObject({
      subject: 'open-gate',
      pictures: [{ role: 'bare' }],
      turned: { path: 'd.jpg' },
    });
  });

  it('takes the picture’s shape from the house', async () => {
    const { request } = await run({ left: 'a.jpg', house: 'test-images/meridian.house.json' });
    expect(request.aspect).toBe(2.35);
  });

  it.each<[EvennessOptions, string]>([
    [{ left: 'a.jpg' }, 'left-eye'],
    [{ left: 'a.jpg', right: 'b.jpg', meterOf: 'right' }, 'right-eye'],
    [{ right: 'b.jpg', openGate: true }, 'right-lens'],
    [{ bare: 'a.jpg', openGate: true }, 'bare'],
    [{ bare: 'a.jpg', meterOf: 'left' }, 'left-eye'],
  ])('%o: the meter read the %s', async (order, of) => {
    expect((await run({ ...order, meter: 14 })).request.meter).toMatchObject({ of, place: 'centre' });
  });

  // 4.5 fL = 15.42 cd/m2. COMPUTED
  it('reads footlamberts, with their uncertainty', async () => {
    const { meter } = (
      await run({ left: 'a.jpg', meter: 4.5, meterU: 0.1, unit: 'fL', meterAt: 'top', throughGlasses: true })
    ).request;
    expect(meter).toMatchObject({ place: 'top', throughGlasses: true });
    expect(meter!.luminance_cd_m2.value).toBeCloseTo(15.42, 2);
    expect(meter!.luminance_cd_m2.u).toBeCloseTo(0.34262591, 6);
  });
});

describe('wrong usage', () => {
  it.each<[string, EvennessOptions, RegExp]>([
    ['no photograph', {}, /at least one photograph/],
    ['light with and without glasses', { left: 'a.jpg', bare: 'b.jpg' }, /on its own/],
    ['two ways of knowing the lens', { left: 'a.jpg', flat: 'b.jpg', panned: 'c.jpg' }, /not both/],
    ['a shape that no picture has', { left: 'a.jpg', aspect: 9 }, /--aspect must be between/],
    ['details of no reading', { left: 'a.jpg', meterAt: 'top' }, /give it with --meter/],
    ['a reading of nothing', { left: 'a.jpg', meter: 0 }, /above zero/],
    ['a reading of one of two', { left: 'a.jpg', right: 'b.jpg', meter: 14 }, /--meter-of/],
    ['a reading of both pictures at once', { bare: 'a.jpg', meter: 14 }, /--meter-of/],
  ])('%s', async (_name, order, reason) => {
    await expect(run(order)).rejects.toThrow(UsageError);
    await expect(run(order)).rejects.toThrow(reason);
  });
});
