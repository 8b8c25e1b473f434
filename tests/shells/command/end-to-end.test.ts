/** The whole command on photographs whose truth is known. */
import { execFile } from 'node:child_process';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Reading, reading } from '../../../src/record/reading.ts';
import { runCommandLine } from '../../../src/shells/command/command-line.ts';
import { findPackage } from '../../../src/storage/find-package.ts';

const SET = 'test-images/meridian-02-vertical';
const photographs = ['--left', `${SET}/left-lens.jpg`, '--right', `${SET}/right-lens.jpg`];
const house = ['--house', 'test-images/meridian.house.json'];

async function run(...words: string[]) {
  const printed: string[] = [];
  const remarks: string[] = [];
  const terminal = { print: (t: string) => printed.push(t), remark: (t: string) => remarks.push(t), trace: true };
  const status = await runCommandLine(words, terminal, findPackage());
  return { status, printed: printed.join(''), remarks: remarks.join('') };
}

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'end-to-end-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

describe('measure', () => {
  let first: Awaited<ReturnType<typeof run>>;
  let measured: Extract<Reading, { outcome: 'measured' }>;
  beforeAll(async () => {
    first = await run('measure', ...photographs, ...house, '--json');
    const parsed = reading.parse(JSON.parse(first.printed));
    if (parsed.outcome === 'refused') throw new Error(parsed.refusal.message);
    measured = parsed;
  });

  it('prints a reading of the schema, and nothing else', () => {
    expect(first.status).toBe(0);
    expect(first.remarks).toBe('');
    expect(measured.software.version).toBe(findPackage().version);
  });

  it('agrees with the truth of the photographs', async () => {
    const truth = JSON.parse(await readFile(`${SET}/truth.json`, 'utf8'));
    const { value, u_repeat } = measured.misalignment.vertical_offset_pct;
    expect(Math.abs(value - truth.misalignment.vertical_offset_pct.value)).toBeLessThan(4 * u_repeat!);
    expect(u_repeat).toBeLessThan(0.002);
    expect(measured.eyes.assignment).toBe(truth.eyes.assignment);
  });

  it('gives turns whose sentence says what to do', () => {
    expect(measured.sentence).toMatch(/^Right-eye picture is 0.55 % too high\. .*screw.* turn .*clockwise/);
    expect(measured.cautions.length).toBeGreaterThan(3);
  });

  it('gives the same bytes for the same photographs', async () => {
    expect((await run('measure', ...photographs, ...house, '--json')).printed).toBe(first.printed);
  });

  it('writes a report that holds the photographs', async () => {
    const report = join(folder, 'report.html');
    const { status, printed, remarks } = await run('measure', ...photographs, ...house, '--report', report);
    expect(status).toBe(0);
    expect(printed.startsWith(measured.sentence.slice(0, 40))).toBe(true);
    expect(remarks).toBe(`Report written to ${report}\n`);
    const html = await readFile(report, 'utf8');
    expect(html.match(/data:image\/jpeg;base64,/g)).toHaveLength(1 + 2 * 6);
    for (const shot of measured.shots) expect(html).toContain(shot.sha256);
    expect(html).not.toMatch(/NaN|Infinity|undefined/);
  });

  it('works without a house file and says what it assumes', async () => {
    const { status, printed } = await run('measure', ...photographs);
    expect(status).toBe(0);
    expect(printed).toContain('Seats assumed at 1.5 and 3 picture heights');
    expect(printed).toContain('Bring the right-eye picture 0.27 % down');
  });

  it('refuses the same photograph twice, a missing one, and a text', async () => {
    const [, left] = photographs as [string, string];
    for (const [right, code] of [
      [left, 'same-photo-twice'],
      ['missing.jpg', 'unreadable-photo'],
      ['package.json', 'unsupported-format'],
    ] as const) {
      const { status, printed } = await run('measure', '--left', left, '--right', right, '--json');
      expect(status).toBe(2);
      const refused = reading.parse(JSON.parse(printed));
      expect(refused.outcome === 'refused' && refused.refusal.code).toBe(code);
    }
  });
});

describe('rehearse', () => {
  it('renders what measure then finds', async () => {
    const out = join(folder, 'rehearsal');
    const made = await run(
      'rehearse',
      '--seed',
      '5',
      '--out',
      out,
      '--width',
      '2400',
      '--aligned',
      '--vertical',
      '-0.8',
    );
    expect(made.status).toBe(0);
    const lines = made.printed.trim().split('\n');
    expect(lines).toHaveLength(4 + 1);
    const files = { bare: join(out, 'bare.jpg'), left: join(out, 'left-lens.jpg'), right: join(out, 'right-lens.jpg') };
    expect(lines.at(-1)).toBe(`twinplumb measure --bare ${files.bare} --left ${files.left} --right ${files.right}`);
    const found = await run('measure', ...Object.entries(files).flatMap(([role, file]) => [`--${role}`, file]));
    expect(found.printed).toMatch(/^Right-eye picture is 0\.80 % too low\./);
    // The film moved between the photographs, but not between the two pictures of one of them.
    expect(found.printed).not.toContain('two exposures');
    const pair = await run('measure', '--left', files.left, '--right', files.right, '--json');
    const record = reading.parse(JSON.parse(pair.printed));
    const alone = reading.parse(JSON.parse((await run('measure', '--bare', files.bare, '--json')).printed));
    if (record.outcome === 'refused' || alone.outcome === 'refused') throw new Error('refused');
    const [two, one] = [record, alone].map(({ misalignment }) => misalignment.vertical_offset_pct.u_repeat!);
    expect(two! / one!).toBeGreaterThan(5);
  });
});

describe('demo', () => {
  it('measures the shipped photographs and says where the report is', async () => {
    const report = join(folder, 'demo', 'report.html');
    const { status, printed } = await run('demo', '--report', report);
    expect(status).toBe(0);
    expect(printed).toContain('The Meridian');
    expect(printed.trimEnd().endsWith(report)).toBe(true);
    expect(await readFile(report, 'utf8')).toContain('The Meridian');
  });
});

describe('the process', () => {
  const main = ['--import', 'tsx', 'src/shells/command/main.ts'];
  const spawn = promisify(execFile);

  it('hands the exit status on', async () => {
    await expect(spawn(process.execPath, [...main, '--version'])).resolves.toMatchObject({
      stdout: `${findPackage().version}\n`,
      stderr: '',
    });
    await expect(spawn(process.execPath, [...main, 'measure'])).rejects.toMatchObject({ code: 64, stdout: '' });
  });

  it('takes no harm when nobody reads its output', async () => {
    const quoted = [process.execPath, ...main, '--help'].map((word) => `'${word}'`).join(' ');
    const { stdout, stderr } = await spawn('sh', ['-c', `{ ${quoted}; echo "status $?" >&2; } | true`]);
    expect(stdout).toBe('');
    // As a shell tells of a program that SIGPIPE ended.
    expect(stderr).toBe('status 141\n');
  });

  it.skipIf(process.platform !== 'linux')('says so where its output cannot be written', async () => {
    const quoted = [process.execPath, ...main, '--version'].map((word) => `'${word}'`).join(' ');
    const { stderr } = await spawn('sh', ['-c', `${quoted} >/dev/full; echo "status $?" >&2`]);
    expect(stderr).toMatch(/^twinplumb: the result cannot be written to standard output \(ENOSPC\)\nstatus 74\n$/);
  });
});
