import sharp, { type JpegOptions } from 'sharp';
import { describe, expect, it } from 'vitest';
import { createRandom } from '../../../src/kernel/random.ts';
import { findJpegDamage } from '../../../src/photo/jpeg/find-jpeg-damage.ts';
import { readPhoto } from '../../../src/photo/read-photo.ts';
import { DAMAGES, damageJpeg } from '../../bench/hostile/damage-jpeg.ts';
import { store, storeInFolder } from '../stored-pictures.ts';

storeInFolder();

/** 56 x 40 pixels of a smooth invented picture, coded by libjpeg: restart markers, the same progressive, scans one by one. */
const RESTARTED = Buffer.from(
  '/9j/4AAQSkZJRgABAQAAAQABAAD/2wBDAA0JCgsKCA0LCgsODg0PEyAVExISEyccHhcgLikxMC4pLSwzOko+MzZGNywtQFdBRkxOUlNSMj5aYVpQ' +
    'YEpRUk//2wBDAQ4ODhMREyYVFSZPNS01T09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT0//wAARCAAoADgD' +
    'ASIAAhEBAxEB/8QAHwAAAQUBAQEBAQEAAAAAAAAAAAECAwQFBgcICQoL/8QAtRAAAgEDAwIEAwUFBAQAAAF9AQIDAAQRBRIhMUEGE1FhByJxFDKB' +
    'kaEII0KxwRVS0fAkM2JyggkKFhcYGRolJicoKSo0NTY3ODk6Q0RFRkdISUpTVFVWV1hZWmNkZWZnaGlqc3R1dnd4eXqDhIWGh4iJipKTlJWWl5iZ' +
    'mqKjpKWmp6ipqrKztLW2t7i5usLDxMXGx8jJytLT1NXW19jZ2uHi4+Tl5ufo6erx8vP09fb3+Pn6/8QAHwEAAwEBAQEBAQEBAQAAAAAAAAECAwQF' +
    'BgcICQoL/8QAtREAAgECBAQDBAcFBAQAAQJ3AAECAxEEBSExBhJBUQdhcRMiMoEIFEKRobHBCSMzUvAVYnLRChYkNOEl8RcYGRomJygpKjU2Nzg5' +
    'OkNERUZHSElKU1RVVldYWVpjZGVmZ2hpanN0dXZ3eHl6goOEhYaHiImKkpOUlZaXmJmaoqOkpaanqKmqsrO0tba3uLm6wsPExcbHyMnK0tPU1dbX' +
    '2Nna4uPk5ebn6Onq8vP09fb3+Pn6/90ABAAC/9oADAMBAAIRAxEAPwDzpYfap0g9qtpB7VOkHtXK6lyKVcppB7VMkHtVxIPap0g9qlyuelSrn//Q' +
    '5NIPaplg9qupB7VOkHtXC1c+hpVyilv7UVqpb+1FTyHfHEaH/9Hnkh9qnSD2q0kPtVhIPavHjUueLSrlRIPap0g9qtpB7VYSD2raMrnoUq5//9KJ' +
    'IPap0g9qupB7VOkHtXFFXN6VcpJb+1FaqW/tRWqgd0cRof/TckHtVhIPaiivm6cmfI05ssJB7VYSD2oorsps76c2f//U6JIParCQe1FFclM4Kc2W' +
    'Et/aiiiuuK0O2M3Y/9k=',
  'base64',
);
const PROGRESSIVE_RESTARTED = Buffer.from(
  '/9j/4AAQSkZJRgABAQAAAQABAAD/2wBDAA0JCgsKCA0LCgsODg0PEyAVExISEyccHhcgLikxMC4pLSwzOko+MzZGNywtQFdBRkxOUlNSMj5aYVpQ' +
    'YEpRUk//2wBDAQ4ODhMREyYVFSZPNS01T09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT0//wgARCAAoADgD' +
    'ASIAAhEBAxEB/8QAGQABAQEBAQEAAAAAAAAAAAAAAwAEAgUG/8QAGQEAAwADAAAAAAAAAAAAAAAAAgMEAQUG/90ABAAD/9oADAMBAAIQAxAAAAH5' +
    'xFRQj23eKR7ZMU//0PPtVPuMiKi+aFFQ6P/R4RkQYWuN+FKh57//0tKVHr0SnUJU5/8A/8QAFhABAQEAAAAAAAAAAAAAAAAAABES/9oACAEBAAEF' +
    'AoiP/9CIj//RyiP/0oiP/9OMo//UiI//1YjL/9aIj//XiI//0Moj/9GIj//SjL//xAAXEQEBAQEAAAAAAAAAAAAAAAACAAED/9oACAEDAQE/AS4u' +
    'Lv/QzpFxd//RLs6R2//SOx2zb//EABkRAQEBAQEBAAAAAAAAAAAAAAABAhEQEv/aAAgBAgEBPwH6d8//0OJpK//RjjNf/9LLKP/EABQQAQAAAAAA' +
    'AAAAAAAAAAAAABD/2gAIAQEABj8Cf//Qf//Rf//Sf//Tf//Uf//Vf//Wf//Xf//Qf//Rf//SP//EABUQAQEAAAAAAAAAAAAAAAAAAAAB/9oACAEB' +
    'AAE/IYxj/9CMY//RhGP/0oxj/9OMI//UjGP/1Yxh/9aMY//XjGP/0IRj/9GMY//SjD//2gAMAwEAAgADAAAAEKRSf//QMgs//9GvED//0gQwP//E' +
    'ABgRAQEBAQEAAAAAAAAAAAAAAAABECER/9oACAEDAQE/EN//AP/Q4b//0XwVf//Sqqr4/8QAGBEBAQEBAQAAAAAAAAAAAAAAAAERECH/2gAIAQIB' +
    'AT8Qul0s1//QdGj/0Y1Gj//SriPH/8QAFRABAQAAAAAAAAAAAAAAAAAAAGH/2gAIAQEAAT8Qgmm//9CaaL//0ZJpv//Smmm//9OaST//1Jppv//V' +
    'mmk//9aSab//15ppv//Qkmm//9Gaab//0ppP/9k=',
  'base64',
);
const ONE_BY_ONE = Buffer.from(
  '/9j/4AAQSkZJRgABAQAAAQABAAD/2wBDAA0JCgsKCA0LCgsODg0PEyAVExISEyccHhcgLikxMC4pLSwzOko+MzZGNywtQFdBRkxOUlNSMj5aYVpQ' +
    'YEpRUk//2wBDAQ4ODhMREyYVFSZPNS01T09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT0//wAARCAAoADgD' +
    'ASEAAhEBAxEB/8QAFwABAQEBAAAAAAAAAAAAAAAAAwQFB//EABgQAAMBAQAAAAAAAAAAAAAAAAACYQME/9oACAEBAAA/AOdLjB0wgyYQZMIMmEGX' +
    'CDJzwzEwg6YQZMIOmEGTCDphB054ZKYwdMIOmEHTCDphB0wg6c8MZMYUJhB0whQmEKEwg6YQoTnhhphChMIUJhChMIUJhChMIUJzw//EABkBAQEA' +
    'AwEAAAAAAAAAAAAAAAMEAAIFAf/EABkRAQEBAQEBAAAAAAAAAAAAAAABAhESIf/aAAgBAhEAPwAboVo6Ow3p51jOBmm8pI345udKM1Rk8jg40sxV' +
    'mFWZ8f/EABcBAQEBAQAAAAAAAAAAAAAAAAUEBgL/xAAXEQEBAQEAAAAAAAAAAAAAAAADAAIh/9oACAEDEQA/AOy3JEkkSSGU5YAtyJJIklflOWCL' +
    'ciSSBJX5Tlgy3IEkgSV2U5YU9yBpXmlblOX/2Q==',
  'base64',
);

/** Noise over a slope, so that bytes differ all over the file. */
async function makeJpeg(seed: number, options: JpegOptions = {}): Promise<Buffer> {
  const random = createRandom(seed);
  const [width, height] = [160 + (seed % 37), 120 + (seed % 23)];
  const data = Uint8Array.from({ length: width * height * 3 }, (_, i) => (i / 300 + 60 * random.uniform()) % 256);
  return sharp(data, { raw: { width, height, channels: 3 } })
    .jpeg({ quality: 40 + (seed % 60), ...options })
    .toBuffer();
}

describe('a whole JPEG is let through', () => {
  it.each([
    ['restart markers', RESTARTED],
    ['restart markers in a progressive file', PROGRESSIVE_RESTARTED],
    ['a scan for each component', ONE_BY_ONE],
    ['words behind the end', Buffer.concat([RESTARTED, Buffer.from('and then the maker wrote on')])],
    ['further pictures behind the end', Buffer.concat([RESTARTED, ONE_BY_ONE, PROGRESSIVE_RESTARTED])],
    ['fill bytes before the end marker', withBeforeEnd(RESTARTED, [0xff, 0xff])],
    ['data filled up to a word', withBeforeEnd(RESTARTED, [0])],
    ['a preview within a header segment', withSegment(RESTARTED, 0xe1, ONE_BY_ONE)],
    ['a comment that looks like the end', withSegment(RESTARTED, 0xfe, Buffer.from([0xff, 0xd9, 0xff, 0xda]))],
  ])('with %s', async (_, bytes) => {
    expect(findJpegDamage(bytes)).toBeUndefined();
    await expect(sharp(bytes).raw().toBuffer()).resolves.toBeDefined();
  });

  it('of every kind that is written here', async () => {
    const refused: unknown[] = [];
    for (let seed = 0; seed < 40; seed++) {
      const options: JpegOptions = {
        progressive: seed % 2 === 1,
        mozjpeg: seed % 5 === 0,
        optimiseCoding: seed % 3 > 0,
        chromaSubsampling: seed % 4 < 2 ? '4:2:0' : '4:4:4',
      };
      if (findJpegDamage(await makeJpeg(seed, options)) !== undefined) refused.push({ seed, options });
    }
    expect(refused).toEqual([]);
  });
});

describe('a damaged JPEG', () => {
  it('that has lost a code, so that all blocks behind it slip, is refused', async () => {
    const bytes = await makeJpeg(4);
    const from = bytes.lastIndexOf(Buffer.from([0xff, 0xda])) + 14;
    const cut = Buffer.concat([bytes.subarray(0, from + 2000), bytes.subarray(from + 2064)]);
    expect(findJpegDamage(cut)).toBe('damaged');
    expect(await readPhoto(await store('slipped.jpg', cut))).toMatchObject({
      outcome: 'refused',
      code: 'unreadable-photo',
      facts: { reason: 'damaged' },
    });
  });

  it('without its end marker is cut short', () => {
    expect(findJpegDamage(RESTARTED.subarray(0, -2))).toBe('damaged');
    expect(findJpegDamage(RESTARTED.subarray(0, 200))).toBe('truncated');
  });

  it('whose restart markers are out of order is refused', () => {
    const first = RESTARTED.indexOf(Buffer.from([0xff, 0xd1]));
    const swapped = Buffer.from(RESTARTED);
    swapped[first + 1] = 0xd2;
    expect(first).toBeGreaterThan(0);
    expect(findJpegDamage(swapped)).toBe('damaged');
  });

  it('with data left over, or filled up with other than ones or zeros, is refused', () => {
    expect(findJpegDamage(withBeforeEnd(RESTARTED, [0, 0, 0, 0, 0]))).toBe('damaged');
    expect(findJpegDamage(withBeforeEnd(RESTARTED, [0x55]))).toBe('damaged');
  });

  it.each(DAMAGES)('by %s is nearly always noticed by the count alone', async (kind) => {
    let [tried, noticed] = [0, 0];
    for (let seed = 0; seed < 24; seed++) {
      const bytes = await makeJpeg(seed, { progressive: seed % 3 === 0 });
      const damaged = damageJpeg(bytes, kind, seed);
      if (bytes.equals(damaged)) continue;
      tried++;
      if (findJpegDamage(damaged) !== undefined) noticed++;
    }
    // One bit of noise turned into another changes no count; nothing slips then.
    expect(noticed / tried).toBeGreaterThan(kind === 'bit-flips' ? 0.55 : 0.9);
  });

  it('never makes the pass throw or run for ever', async () => {
    const sound = [RESTARTED, PROGRESSIVE_RESTARTED, ONE_BY_ONE];
    const random = createRandom(8);
    for (let round = 0; round < 600; round++) {
      const bytes = Uint8Array.from(sound[round % 3]!);
      for (let i = 0; i < 3; i++)
        bytes[Math.floor(random.uniform() * bytes.length)] = Math.floor(random.uniform() * 256);
      expect([undefined, 'damaged', 'truncated']).toContain(findJpegDamage(bytes));
    }
  });
});

function withBeforeEnd(bytes: Buffer, added: readonly number[]): Buffer {
  return Buffer.concat([bytes.subarray(0, -2), Buffer.from(added), bytes.subarray(-2)]);
}

function withSegment(bytes: Buffer, marker: number, content: Buffer): Buffer {
  const length = content.length + 2;
  const head = Buffer.from([0xff, marker, length >> 8, length & 255]);
  return Buffer.concat([bytes.subarray(0, 2), head, content, bytes.subarray(2)]);
}
