/** The manual says what the program does: every option, every default, every refusal, every caution. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { portsVerdict } from '../../../src/record/port-shots.ts';
import { reading } from '../../../src/record/reading.ts';
import { describeProgram } from '../../../src/shells/command/command-line.ts';
import { EXIT } from '../../../src/shells/command/exit-status.ts';
import { DEFAULTS } from '../../../src/shells/command/options.ts';
import { chooseCautions } from '../../../src/wording/cautions.ts';
import { NULL_NOTE_CODES, PORT_NOTE_CODES } from '../../../src/wording/polarizers.ts';
import { NULL_REFUSAL_CODES, PORT_REFUSAL_CODES, REFUSAL_CODES } from '../../../src/wording/refusals.ts';
import { listCommands } from './list-commands.ts';

const manual = readFileSync('src/manual/commands.md', 'utf8');
const program = describeProgram(
  { print: () => {}, remark: () => {}, trace: false },
  { root: '', version: '0' },
  () => {},
);

function sectionOf(command: string): string {
  const start = manual.indexOf(`\n## ${command}\n`);
  expect(start, command).toBeGreaterThan(0);
  const end = manual.indexOf('\n## ', start + 4);
  return manual.slice(start, end < 0 ? undefined : end);
}

const commands = listCommands(program);

describe.each(commands.map(({ name, command }) => [name, command] as const))('the manual of %s', (name, command) => {
  const rows = sectionOf(name)
    .split('\n')
    .filter((line) => line.startsWith('| `--'));
  const options = command.options.filter(({ long }) => long !== '--help');

  it('lists exactly its options, as the help writes them', () => {
    const listed = rows.flatMap((row) => [...row.split('|')[1]!.matchAll(/`(--[^`]+)`/g)].map((match) => match[1]!));
    expect(listed.toSorted()).toEqual(options.map(({ flags }) => flags).toSorted());
  });

  it('states the defaults of the code', () => {
    for (const { long, defaultValue, presetArg, mandatory } of options) {
      const given = rows.find(
        (row) => row.split('|')[1]!.includes(`${long} `) || row.split('|')[1]!.includes(`${long}\``),
      )!;
      const stated = given.split('|')[3]!;
      if (defaultValue !== undefined) expect(stated, long!).toContain(String(defaultValue));
      if (presetArg !== undefined) expect(stated, long!).toContain(String(presetArg));
      expect(stated.includes('needed'), long!).toBe(mandatory);
    }
  });
});

it('has a section for every command and no other option anywhere', () => {
  expect([...manual.matchAll(/\n## (.*)\n/g)].map((match) => match[1])).toEqual(commands.map(({ name }) => name));
  const known = new Set([
    '--help',
    '--version',
    ...program.options.map(({ long }) => long!),
    ...commands.flatMap(({ command }) => command.options.map(({ long }) => long!)),
  ]);
  const named = [...manual.matchAll(/(?<![\w-])--[a-z][a-z-]*/g)].map((match) => match[0]);
  expect(named.filter((option) => !known.has(option))).toEqual([]);
});

it('tables every refusal and every exit status', () => {
  const codes = [...manual.matchAll(/^\| `([a-z-]+)` \|/gm)].map((match) => match[1]);
  for (const code of REFUSAL_CODES) expect(codes).toContain(code);
  for (const status of Object.values(EXIT)) expect(manual).toMatch(new RegExp(`^\\| ${status} \\|`, 'm'));
});

it('tables every reason why a series gives no null and ports tell nothing, every note and every verdict', () => {
  const page = readFileSync('src/manual/polarizers.md', 'utf8');
  const codes = [...page.matchAll(/^\| `([a-z-]+)` \|/gm)].map((match) => match[1]);
  const ofNull = [...NULL_REFUSAL_CODES, ...NULL_NOTE_CODES];
  const ofPorts = [...PORT_REFUSAL_CODES, ...PORT_NOTE_CODES, ...portsVerdict.options];
  expect(codes).toEqual(expect.arrayContaining([...ofNull, ...ofPorts]));
});

it('names every field of a reading', () => {
  const table = sectionOf('measure');
  const [measured, refused] = reading.options;
  for (const field of [...Object.keys(measured.shape), ...Object.keys(refused.shape)]) {
    if (field === 'measured_at') continue;
    expect(table).toContain(`\`${field}\``);
  }
});

it('says where the demo writes its report', () => {
  expect(sectionOf('demo')).toContain(DEFAULTS.demoReport);
});

it('has every caution word for word on the page about safety', () => {
  const safety = readFileSync('src/manual/safety.md', 'utf8');
  const cautions = chooseCautions({ atProjector: true, atHeight: true, atPolarizer: true, atLitPort: true });
  expect(cautions.length).toBeGreaterThan(8);
  for (const caution of cautions) expect(safety).toContain(`- ${caution}\n`);
});
