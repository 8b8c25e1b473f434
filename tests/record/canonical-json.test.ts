import { describe, expect, it } from 'vitest';
import { canonicalJson } from '../../src/record/canonical-json.ts';

describe('canonical JSON', () => {
  it('is that of the example in RFC 8785, 3.2.2 to 3.2.4', () => {
    const given = {
      numbers: [JSON.parse('333333333.33333329'), 1e30, 4.5, 2e-3, 0.000000000000000000000000001],
      string: '\u20ac$\u000F\u000aA\'\u0042\u0022\u005c\\"/',
      literals: [null, true, false],
    };
    expect(canonicalJson(given)).toBe(
      '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}',
    );
  });

  it('orders names by their UTF-16 codes, as in RFC 8785, 3.2.3', () => {
    const given = { '\u20ac': 1, '\r': 2, '\ufb33': 3, '1': 4, '\ud83d\ude00': 5, '\u0080': 6, '\u00f6': 7 };
    expect(Object.values(JSON.parse(canonicalJson(given)))).toEqual(expect.arrayContaining([1, 2, 3]));
    expect([...canonicalJson(given).matchAll(/:(\d)/g)].map(([, n]) => n).join('')).toBe('2467153');
  });

  it('does not depend on the order in which something was put together, nor on a minus before zero', () => {
    expect(canonicalJson({ b: [-0], a: { d: 1, c: 2 } })).toBe(canonicalJson({ a: { c: 2, d: 1 }, b: [0] }));
    expect(canonicalJson({ a: 1, b: undefined })).toBe('{"a":1}');
  });

  it.each([
    ['a number that is none', { a: Number.NaN }],
    ['a number without end', [Number.POSITIVE_INFINITY]],
    ['half of a character', { a: 'x\ud800y' }],
    ['half of a character in a name', { '\udc00': 1 }],
    ['nothing', undefined],
  ])('cannot hold %s', (_what, value) => {
    expect(() => canonicalJson(value)).toThrow(RangeError);
  });

  it('holds text that only looks like half of a character', () => {
    expect(canonicalJson('\\ud800')).toBe('"\\\\ud800"');
  });
});
