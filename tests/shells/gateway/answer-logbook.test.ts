import { beforeEach, describe, expect, it } from 'vitest';
import { ADDRESSES, MAX_BUNDLE_BYTES } from '../../../src/contract/addresses.ts';
import { answerLogbook } from '../../../src/shells/gateway/answer-logbook.ts';
import { readPaper } from '../../../src/shells/gateway/read-request.ts';
import { SHA256, StandInWork } from './stand-in-work.ts';

const ORIGIN = 'http://127.0.0.1:4999';
const OTHER = 'cd'.repeat(32);

let work: StandInWork;
beforeEach(() => {
  work = new StandInWork();
});

const ask = (address: string, init: RequestInit = {}) => {
  const request = new Request(`${ORIGIN}${address}`, init);
  const url = new URL(request.url);
  const [, , ...parts] = url.pathname.split('/');
  return answerLogbook(work.logbook, request, url, parts);
};

describe('what the logbook takes', () => {
  it('are photographs and bundles with their names', async () => {
    const body = Uint8Array.of(1, 2, 3);
    const photograph = await ask(ADDRESSES.logbook.addPhotograph('a & b.jpg'), { method: 'POST', body });
    expect(await photograph.json()).toEqual({ ok: true, value: { sha256: SHA256, name: 'a & b.jpg' } });
    const bundle = await ask(ADDRESSES.logbook.importBundle('x.zip'), { method: 'POST', body });
    expect(await bundle.json()).toEqual({ ok: true, value: { job: 7 } });
    expect(work.asked).toEqual([
      ['logbook.addPhotograph', 'a & b.jpg', 3],
      ['logbook.importBundle', 'x.zip', 3],
    ]);
  });

  it('is refused before it is read where it announces too much', async () => {
    const headers = { 'content-length': String(MAX_BUNDLE_BYTES + 1) };
    const answer = await ask('/logbook/bundles', { method: 'POST', body: 'x', headers });
    expect(answer.status).toBe(413);
    expect(work.asked).toEqual([]);
  });
});

describe('what the logbook hands out', () => {
  it('are files under the name that they are kept by, as downloads', async () => {
    const answers: readonly (readonly [string, unknown])[] = [
      [ADDRESSES.logbook.entry(SHA256, 'report.html'), ['entryFile', SHA256, 'report.html', 'a4']],
      [ADDRESSES.logbook.entry(SHA256, 'report.pdf', 'letter'), ['entryFile', SHA256, 'report.pdf', 'letter']],
      [ADDRESSES.logbook.pair(SHA256, OTHER, 'comparison.json'), ['pairFile', SHA256, OTHER, 'comparison.json', 'a4']],
      [ADDRESSES.logbook.bundle(12), ['bundle', 12]],
      [
        ADDRESSES.logbook.list({ text: 'ä & b', with_replaced: true }),
        ['listFile', { text: 'ä & b', with_replaced: true }],
      ],
      [
        ADDRESSES.logbook.trends({ house: 'The Meridian' }, 'report.pdf', 'a4'),
        ['trendsFile', { house: 'The Meridian' }, 'report.pdf', 'a4'],
      ],
    ];
    for (const [address, asked] of answers) {
      const answer = await ask(address);
      expect([address, answer.status]).toEqual([address, 200]);
      expect(answer.headers.get('content-disposition')).toBe('attachment; filename="file.txt"');
      expect(answer.headers.get('content-security-policy')).toContain("default-src 'none'");
      expect(JSON.parse(await answer.text())).toEqual(asked);
    }
  });

  it('are photographs as a browser shows them', async () => {
    const view = await ask(ADDRESSES.logbook.photograph(SHA256, 300));
    expect([view.headers.get('content-type'), (await view.arrayBuffer()).byteLength]).toEqual(['image/jpeg', 3]);
    expect((await ask(ADDRESSES.logbook.photograph(OTHER))).status).toBe(404);
    expect((await ask(`/logbook/photographs/${SHA256}?width=0`)).status).toBe(400);
  });

  it.each([
    ['/logbook', 404],
    ['/logbook/entries', 404],
    [`/logbook/entries/${SHA256}`, 404],
    [`/logbook/entries/${SHA256}/secret.txt`, 404],
    [`/logbook/entries/..%2f..%2fsecret/report.html`, 404],
    [`/logbook/entries/${SHA256}/report.pdf?paper=a0`, 400],
    [`/logbook/pairs/${SHA256}/x/report.html`, 404],
    ['/logbook/bundles/x', 404],
    ['/logbook/list/other.csv', 404],
    ['/logbook/list/entries.csv?verdict=perhaps', 400],
    ['/logbook/trends/trends.csv?from=yesterday', 400],
    ['/logbook/trends/trends.csv?surplus=1', 400],
  ])('is nothing at %s', async (address, status) => {
    expect((await ask(address)).status).toBe(status);
  });

  it('is never changed by another method', async () => {
    expect((await ask(ADDRESSES.logbook.entry(SHA256, 'entry.json'), { method: 'DELETE' })).status).toBe(405);
    expect((await ask('/logbook/list/entries.csv', { method: 'POST', body: '' })).status).toBe(405);
  });
});

it('prints on A4 where nobody says', () => {
  expect(readPaper(new URL(`${ORIGIN}/x`))).toBe('a4');
  expect(readPaper(new URL(`${ORIGIN}/x?paper=letter`))).toBe('letter');
  expect(readPaper(new URL(`${ORIGIN}/x?paper=`))).toBeUndefined();
});
