import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { LightRequest } from '../../../src/application/light/describe-light.ts';
import type { MeasureRequest } from '../../../src/application/measure-photographs.ts';
import type { UnwordedEvenness } from '../../../src/record/evenness.ts';
import type { UnwordedReading } from '../../../src/record/reading.ts';
import { UsageError } from '../../../src/shells/command/exit-status.ts';
import { runMeasure } from '../../../src/shells/command/run-measure.ts';
import { sampleReading, sampleRefusal } from '../../report/sample-reading.ts';

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'measure-'));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

function worldWith(reading: UnwordedReading) {
  const printed: string[] = [];
  const remarks: string[] = [];
  const requests: MeasureRequest[] = [];
  const lightRequests: LightRequest[] = [];
  const world = {
    measurePhotographs: async (request: MeasureRequest) => {
      requests.push(request);
      return reading;
    },
    describeLight: async (request: LightRequest) => {
      lightRequests.push(request);
      return LIGHT;
    },
    softwareVersion: '9.9.9',
    print: (text: string) => printed.push(text),
    remark: (text: string) => remarks.push(text),
  };
  return { world, printed, remarks, requests, lightRequests };
}

const LIGHT: UnwordedEvenness = {
  schema: 'twinplumb.evenness/1',
  outcome: 'refused',
  software: { name: 'twinplumb', version: '9.9.9' },
  subject: 'target',
  refusal: { code: 'camera-not-turned', shot: 'turned-camera', file: 'b.jpg', facts: { corner_u_pct: 31 } },
};

const photographs = { left: ['a.jpg'], right: ['b.jpg'] };
const named = (role: string, path: string) => ({ role, path, name: path });

describe('measure', () => {
  it('prints the sentence first, and nothing but the result', async () => {
    const { world, printed, remarks, requests } = worldWith(sampleReading);
    expect(await runMeasure(photographs, world)).toBe(0);
    expect(printed.join('')).toMatch(/^Right-eye picture is 0.41 % too high\./);
    expect(remarks).toEqual([]);
    expect(requests).toEqual([
      { photographs: [named('left-lens', 'a.jpg'), named('right-lens', 'b.jpg')], softwareVersion: '9.9.9' },
    ]);
  });

  it('says how even the light is in the same photographs, where people read it', async () => {
    const { world, printed, lightRequests } = worldWith(sampleReading);
    await runMeasure(photographs, world);
    expect(printed.join('')).toMatch(/\nLight\n {2}Not measured: The camera was hardly panned/);
    const pictures = [
      { path: 'a.jpg', name: 'a.jpg', role: 'left-lens' },
      { path: 'b.jpg', name: 'b.jpg', role: 'right-lens' },
    ];
    const { aspect } = sampleReading.house;
    expect(lightRequests).toEqual([{ subject: 'target', pictures, aspect, softwareVersion: '9.9.9' }]);
    await runMeasure({ ...photographs, json: true }, world);
    await runMeasure(photographs, worldWith(sampleRefusal).world);
    expect(lightRequests).toHaveLength(1);
  });

  it('hands a closing photograph on', async () => {
    const { world, requests } = worldWith(sampleReading);
    await runMeasure({ ...photographs, closing: 'c.jpg' }, world);
    expect(requests[0]!.photographs.at(-1)).toEqual(named('closing', 'c.jpg'));
  });

  it('hands photographs without glasses on, alone and beside the others', async () => {
    const { world, requests } = worldWith(sampleReading);
    await runMeasure({ bare: ['x.jpg', 'y.jpg'] }, world);
    await runMeasure({ ...photographs, bare: ['x.jpg'] }, world);
    expect(requests.map((request) => request.photographs.map(({ role }) => role))).toEqual([
      ['bare', 'bare'],
      ['left-lens', 'right-lens', 'bare'],
    ]);
  });

  it('takes repeats left, right, right, left, or in the order that is stated', async () => {
    const { world, requests } = worldWith(sampleReading);
    const repeats = { left: ['a.jpg', 'b.jpg'], right: ['c.jpg', 'd.jpg'] };
    await runMeasure(repeats, world);
    await runMeasure({ ...repeats, order: 'right,left,left,right' }, world);
    expect(requests.map((request) => request.photographs.map(({ path }) => path[0]).join(''))).toEqual([
      'acdb',
      'cabd',
    ]);
  });

  it.each([
    [{}, /name the photographs/],
    [{ left: ['a.jpg'] }, /belong together/],
    [{ bare: ['a.jpg'], closing: 'b.jpg' }, /--closing needs/],
    [{ bare: ['a.jpg'], order: 'bare,bare' }, /2 times/],
    [{ bare: ['a.jpg'], order: 'bare,middle' }, /not “middle”/],
  ])('refuses photographs that make no set: %o', async (options, reason) => {
    await expect(runMeasure(options, worldWith(sampleReading).world)).rejects.toThrow(reason);
  });

  it('prints one JSON object on one line', async () => {
    const { world, printed } = worldWith(sampleReading);
    expect(await runMeasure({ ...photographs, json: true }, world)).toBe(0);
    const text = printed.join('');
    expect(text.indexOf('\n')).toBe(text.length - 1);
    expect(JSON.parse(text)).toMatchObject({
      schema: 'twinplumb.reading/1',
      outcome: 'measured',
      misalignment: sampleReading.misalignment,
      sentence: expect.stringContaining('Upper screw'),
    });
    expect(JSON.parse(text)).not.toHaveProperty('measured_at', expect.not.stringContaining('2026-03-14'));
  });

  it('gives a refusal with status 2, its words and its code', async () => {
    const { world, printed } = worldWith(sampleRefusal);
    expect(await runMeasure({ ...photographs, json: true }, world)).toBe(2);
    expect(JSON.parse(printed.join(''))).toMatchObject({
      outcome: 'refused',
      refusal: {
        code: 'camera-moved',
        shot: null,
        message: expect.stringContaining('moved'),
        remedy: expect.any(String),
      },
    });
    const plain = worldWith(sampleRefusal);
    expect(await runMeasure(photographs, plain.world)).toBe(2);
    expect(plain.printed.join('')).toMatch(/^The camera, or the film in the gate, moved/);
  });

  it('writes a report of a refusal too, whole, into a folder that it makes', async () => {
    const { world, remarks } = worldWith(sampleRefusal);
    const report = join(folder, 'new', 'report.html');
    expect(await runMeasure({ ...photographs, report }, world)).toBe(2);
    expect(await readFile(report, 'utf8')).toContain('moved between the two photographs');
    expect(await readdir(join(folder, 'new'))).toEqual(['report.html']);
    expect(remarks.join('')).toContain(report);
  });

  it('blames the user’s place when the report cannot be written, after the result was printed', async () => {
    const { world, printed } = worldWith(sampleRefusal);
    await writeFile(join(folder, 'file'), '');
    const report = join(folder, 'file', 'report.html');
    await expect(runMeasure({ ...photographs, report }, world)).rejects.toThrow(UsageError);
    expect(printed).toHaveLength(1);
  });
});

describe('the house file', () => {
  it('is read and handed on', async () => {
    const { world, requests } = worldWith(sampleReading);
    await runMeasure({ ...photographs, house: 'test-images/meridian.house.json' }, world);
    expect(requests[0]?.house).toMatchObject({ name: 'The Meridian', throw_m: 27 });
  });

  it.each([
    ['is missing', null, /cannot be read/],
    ['is no JSON', '{"schema": ', /not valid JSON/],
    ['is something else', '{"schema": "other/1"}', /is not a house file/],
    ['is newer', '{"schema": "twinplumb.house/2"}', /newer Twinplumb/],
    ['lacks its fields', '{"schema": "twinplumb.house/1"}', /name is missing[\s\S]*throw_m is missing/],
  ])('that %s is wrong usage with its reason', async (_name, content, reason) => {
    const house = join(folder, 'house.json');
    if (content !== null) await writeFile(house, content);
    const { world, requests } = worldWith(sampleReading);
    const outcome = runMeasure({ ...photographs, house }, world);
    await expect(outcome).rejects.toThrow(UsageError);
    await expect(outcome).rejects.toThrow(reason);
    expect(requests).toEqual([]);
  });

  it('may begin with a byte order mark', async () => {
    const house = join(folder, 'house.json');
    await writeFile(house, `\uFEFF${await readFile('test-images/meridian.house.json', 'utf8')}`);
    const { world, requests } = worldWith(sampleReading);
    await runMeasure({ ...photographs, house }, world);
    expect(requests[0]?.house?.name).toBe('The Meridian');
  });
});

describe('--update-house', () => {
  const lens = { right_arcmin: 0.4, up_arcmin: -0.2, u_arcmin: 0.1, turn_deg: 0.01, u_turn_deg: 0.005 };
  const learned = {
    film: { motion_um: { value: 4.2, u: 0.8 }, degrees_of_freedom: 12, photographs: 8 },
    glasses: { left: lens, right: { ...lens, right_arcmin: -0.4 } },
  };

  it('writes to the House file what was learned, and says what', async () => {
    const house = join(folder, 'house.json');
    await writeFile(house, await readFile('test-images/meridian.house.json'));
    const { world, remarks } = worldWith({ ...sampleReading, house_findings: learned });
    expect(await runMeasure({ ...photographs, house, updateHouse: true }, world)).toBe(0);
    const written = JSON.parse(await readFile(house, 'utf8'));
    expect(written.film).toMatchObject({ motion_um: 4.2, motion_degrees_of_freedom: 12 });
    expect(written.glasses).toEqual(learned.glasses);
    const said = remarks.join('');
    expect(said).toContain(house);
    expect(said).toMatch(/4\.2 ± 1\.6 µm.*\n.*left lens.*\+0\.4′ to the right.*−?-?0\.2′ up.*\n.*right lens/);
  });

  it('leaves the file as it is where nothing was learned, and needs one', async () => {
    const house = join(folder, 'house.json');
    const text = await readFile('test-images/meridian.house.json', 'utf8');
    await writeFile(house, text);
    const { world, remarks } = worldWith(sampleReading);
    await runMeasure({ ...photographs, house, updateHouse: true }, world);
    expect(await readFile(house, 'utf8')).toBe(text);
    expect(remarks.join('')).toContain('Nothing is written');
    await expect(runMeasure({ ...photographs, updateHouse: true }, world)).rejects.toThrow(UsageError);
  });
});

describe('the report', () => {
  it.each([
    ['a photograph of the same call', 'left.jpg', {}, /would be overwritten/],
    ['a photograph of the same call, forced', 'left.jpg', { force: true }, /would be overwritten/],
    ['the house file', 'house.json', { force: true }, /would be overwritten/],
    ['what others wrote', 'other.html', {}, /was not written by Twinplumb/],
  ])('is not written over %s, and nothing is measured for it', async (_, name, more, message) => {
    const at = (file: string) => join(folder, file);
    for (const file of ['left.jpg', 'right.jpg', 'house.json', 'other.html']) await writeFile(at(file), file);
    const { world, requests } = worldWith(sampleReading);
    const order = {
      left: [at('left.jpg')],
      right: [at('right.jpg')],
      house: at('house.json'),
      report: at(name),
      ...more,
    };
    await expect(runMeasure(order, world)).rejects.toThrow(message);
    expect(await readFile(at(name), 'utf8')).toBe(name);
    expect(requests).toEqual([]);
  });
});
