import { describe, expect, it } from 'vitest';
import { listOptions, readOptions } from '../../../src/shells/browser-host/read-options.ts';

describe('the options of the browser host', () => {
  it('have defaults', () => {
    expect(readOptions([])).toEqual({ folder: undefined, port: 0, open: undefined, help: false });
  });

  it('are read', () => {
    expect(readOptions(['--folder', 'x', '--port', '4999', '--open'])).toEqual({
      folder: 'x',
      port: 4999,
      open: true,
      help: false,
    });
    expect(readOptions(['--no-open'])).toMatchObject({ open: false });
    expect(readOptions(['--help'])).toMatchObject({ help: true });
  });

  it.each([
    ['--port', 'x'],
    ['--port', '65536'],
    ['--port', '-1'],
    ['--folder'],
    ['--folder', ''],
    ['--other'],
    ['word'],
  ])('that make no sense are a sentence: %s %s', (...words) => {
    expect(readOptions(words)).toMatch(/^.{10,}$/);
  });

  it('are all in the help', () => {
    for (const word of ['--folder', '--port', '--open', '--no-open', '--help'])
      expect(listOptions()).toContain(`  ${word} `);
  });
});
