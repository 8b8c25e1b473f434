import { describe, expect, it } from 'vitest';
import { readDrop } from '../../../../../src/shells/interface/screens/shots/read-drop.ts';

const item = (kind: string, name: string, isDirectory: boolean) => ({
  kind,
  webkitGetAsEntry: () => ({ isDirectory, name }),
  getAsFile: () => (isDirectory ? null : new File(['x'], name)),
});

describe('a drop', () => {
  it('is divided into files and folders; text is left alone', () => {
    const items = [item('file', 'left.jpg', false), item('string', 'text', false), item('file', 'Round 3', true)];
    const dropped = readDrop({ items } as never);
    expect(dropped.files.map(({ name }) => name)).toEqual(['left.jpg']);
    expect(dropped.folders).toEqual(['Round 3']);
  });

  it('is read where a browser knows no folders', () => {
    const plain = { kind: 'file', getAsFile: () => new File(['x'], 'a.jpg') };
    expect(readDrop({ items: [plain] } as never).files).toHaveLength(1);
  });
});
