import { homedir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { usualLogbookFolder } from '../../src/logbook/usual-folder.ts';

it('lies in the home folder, where its owner sees it', () => {
  expect(usualLogbookFolder('/homes/one')).toBe(join('/homes/one', 'Twinplumb', 'logbook'));
  expect(usualLogbookFolder().startsWith(homedir())).toBe(true);
});
