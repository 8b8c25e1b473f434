/** The command as it is typed, on rendered photographs of lit ports. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { portShots } from '../../../../src/record/port-shots.ts';
import { runCommandLine } from '../../../../src/shells/command/command-line.ts';
import { Darkroom } from '../../../application/light/photograph-hall.ts';
import { LIT_PORTS, photographPorts } from '../../../application/polarizers/lit-ports.ts';

let darkroom: Darkroom;
let good: Awaited<ReturnType<typeof photographPorts>>;
beforeAll(async () => {
  darkroom = new Darkroom();
  good = await photographPorts(darkroom);
});
afterAll(() => darkroom.close());

async function run(left: string, right: string, ...words: readonly string[]) {
  const printed: string[] = [];
  const remarks: string[] = [];
  const terminal = { print: (text: string) => printed.push(text), remark: (text: string) => remarks.push(text) };
  const all = ['ports', '--left', left, '--right', right, ...words];
  const status = await runCommandLine(all, { ...terminal, trace: false }, { root: '', version: '9.9.9' });
  return { status, printed: printed.join(''), remarks: remarks.join('') };
}

describe('ports', () => {
  it('says first which port serves which eye, then by how much, then what to beware of', async () => {
    const { status, printed, remarks } = await run(good.left.path, good.right.path);
    expect([status, remarks]).toEqual([0, '']);
    const text = printed.replace(/\s+/g, ' ');
    expect(text).toMatch(
      /^The upper port is dark to the left eye and the lower one to the right eye, as is common practice: each serves its own eye\./,
    );
    expect(text).toMatch(/upper port dark to the left eye keeps \d(\.\d)? ± \d(\.\d)? % through the left lens/);
    expect(text).toContain('never an eye');
  });

  it('against a house whose upper port shows the right eye says that exchanged lenses are exchanged', async () => {
    const words = ['--json', '--house', 'test-images/meridian.house.json'];
    const { status, printed } = await run(good.right.path, good.left.path, ...words);
    expect(status).toBe(0);
    expect(printed.indexOf('\n')).toBe(printed.length - 1);
    const record = portShots.parse(JSON.parse(printed));
    if (record.outcome === 'refused') throw new Error(printed);
    expect(record).toMatchObject({
      verdict: 'exchanged',
      expected: { upper_port_shows: 'right', by: 'house' },
      answer: { check: 'look-at-ports-through-glasses', answer: 'dark-to-its-own-eye' },
    });
    expect(record.cautions.join()).toContain('igniter');
  });

  it('refuses with status 2, the reason, the remedy and the cautions', async () => {
    const covered = await photographPorts(darkroom, { ...LIT_PORTS, ports: LIT_PORTS.ports.slice(0, 1) });
    const { status, printed } = await run(covered.left.path, covered.right.path);
    expect(status).toBe(2);
    expect(printed).toMatch(/^The photographs show one bright patch where there should be two\.\n\nUncover both ports/);
    expect(printed).toContain('Cautions');
    const missing = await run(good.left.path, `${good.right.path}.gone`, '--json');
    expect(missing.status).toBe(2);
    expect(JSON.parse(missing.printed).refusal).toMatchObject({ code: 'unreadable-photo', shot: 'right-lens' });
  });
});
