import { homedir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { defaultLogbookFolder } from '../../src/logbook/layout.ts';

it('lies in the home folder, where its owner sees it', () => {
  expect(defaultLogbookFolder('/homes/one')).toBe(join('/homes/one', 'Twinplumb', 'logbook'));
  expect(defaultLogbookFolder().startsWith(homedir())).toBe(true);
});
