/** Functions of the measuring rooms that other rooms call show in their docstring how they are called. */
import { expect, it } from 'vitest';
import { ROOMS } from '../../build/rooms.ts';
import { roomOf } from './check-imports.ts';
import { readTaken } from './read-names.ts';
import { readSources } from './source-files.ts';

const MEASURING = ['kernel', 'vision', 'geometry', 'light', 'turns'];
const FUNCTION = /(\/\*\*(?:(?!\*\/)[\s\S])*\*\/\n)?^export (?:async )?function\*? (\w+)/gm;

const sources = readSources('src');

/** `file name` of what some file of another room takes. */
const takenElsewhere = new Set(
  [...sources].flatMap(([from, text]) =>
    [...readTaken(from, text)].flatMap(([file, names]) =>
      roomOf(file, ROOMS) === roomOf(from, ROOMS) ? [] : [...names].map((name) => `${file} ${name}`),
    ),
  ),
);

it('have an example', () => {
  const called = [...sources]
    .filter(([file]) => MEASURING.includes(roomOf(file, ROOMS) ?? ''))
    .flatMap(([file, text]) =>
      [...text.matchAll(FUNCTION)].map(([, doc = '', name]) => ({ name: `${file} ${name}`, doc })),
    )
    .filter(({ name }) => takenElsewhere.has(name));
  expect(called.length).toBeGreaterThan(100);
  expect(called.filter(({ doc }) => !doc.includes('@example')).map(({ name }) => name)).toEqual([]);
});
