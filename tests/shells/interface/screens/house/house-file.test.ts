import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readHouse } from '../../../../../src/record/house.ts';
import { readHouseFile, writeHouseFile } from '../../../../../src/shells/interface/screens/house/house-file.ts';

const ROOT = join(import.meta.dirname, '../../../../..');
const EXAMPLE = readFileSync(join(ROOT, 'test-images/meridian.house.json'), 'utf8');

const read = readHouse(JSON.parse(EXAMPLE));
if (read.outcome === 'refused') throw new Error('the example cannot be read');
const { house } = read;
const fileOf = (text: string, name = 'a.json') => ({ name, size: text.length, text: async () => text });

describe('a House file', () => {
  it('that was written is read as the same House', async () => {
    const { name, text } = writeHouseFile(house);
    expect(name).toBe('meridian.house.json');
    const again = await readHouseFile(fileOf(text));
    expect('json' in again && readHouse(again.json)).toEqual({ outcome: 'read', house });
  });

  it('is named after the house, whatever its letters', () => {
    expect(writeHouseFile({ ...house, name: 'Café Olé 2' }).name).toBe('cafe-ole-2.house.json');
    expect(writeHouseFile({ ...house, name: '映画' }).name).toBe('my.house.json');
  });

  it('may begin with a byte order mark', async () => {
    expect(await readHouseFile(fileOf('\uFEFF{"a":1}'))).toEqual({ json: { a: 1 } });
  });

  it('is refused in words where it is no JSON, too large, or gone', async () => {
    const codeOf = async (file: Parameters<typeof readHouseFile>[0]) => {
      const refused = await readHouseFile(file);
      if (!('failure' in refused)) throw new Error('it was read');
      expect(refused.failure.message).toContain(file.name);
      expect(refused.failure.remedy).toMatch(/\.$/);
      return refused.failure.code;
    };
    expect(await codeOf(fileOf('{'))).toBe('house-file-no-json');
    expect(await codeOf({ ...fileOf('{}'), size: 2 ** 30 })).toBe('house-file-too-large');
    const gone = { name: 'a.json', size: 2, text: () => Promise.reject(new Error('gone')) };
    expect(await codeOf(gone)).toBe('house-file-unreadable');
  });
});

describe('the example beside the screen', () => {
  it('is that of the test images, byte for byte', () => {
    expect(readFileSync(join(ROOT, 'src/shells/interface/screens/house/meridian.house.json'), 'utf8')).toBe(EXAMPLE);
  });
});
