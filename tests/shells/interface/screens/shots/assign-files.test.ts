import { describe, expect, it } from 'vitest';
import {
  assignFiles,
  compareNames,
  shotOfName,
} from '../../../../../src/shells/interface/screens/shots/assign-files.ts';

describe('what a name says', () => {
  it.each([
    ['left-lens.jpg', 'left-lens'],
    ['Meridian_L_03.JPG', 'left-lens'],
    ['throughRightLens.png', 'right-lens'],
    ['R.tif', 'right-lens'],
    ['closing shot.jpg', 'closing'],
    ['bare.jpeg', 'bare'],
  ])('%s is %s', (name, slot) => expect(shotOfName(name)).toBe(slot));

  it.each(['DSC_0417.JPG', 'leftover.jpg', 'left-right.jpg', 'bright.jpg', 'IMG.left'])('%s says nothing', (name) =>
    expect(shotOfName(name)).toBeUndefined(),
  );

  it('counts numbers as numbers', () => {
    expect(['DSC10.jpg', 'DSC9.jpg', 'dsc1.jpg'].toSorted(compareNames)).toEqual(['dsc1.jpg', 'DSC9.jpg', 'DSC10.jpg']);
  });
});

describe('one file', () => {
  it('goes where it was dropped, whatever its name', () => {
    expect(assignFiles(['left.jpg'], 'right-lens', [])).toEqual({ how: 'asked', files: { 'right-lens': 0 } });
  });

  it('goes by its name, else to the next free place', () => {
    expect(assignFiles(['right.jpg'], null, [])).toEqual({ how: 'by-name', files: { 'right-lens': 0 } });
    expect(assignFiles(['1.jpg'], null, [])).toEqual({ how: 'next-free', files: { 'left-lens': 0 } });
    expect(assignFiles(['1.jpg'], null, ['left-lens'])).toEqual({ how: 'next-free', files: { 'right-lens': 0 } });
  });

  it('is a question where both places are taken', () => {
    expect(assignFiles(['1.jpg'], null, ['left-lens', 'right-lens']).how).toBe('question');
  });
});

describe('two files', () => {
  it('go by their names, in any order', () => {
    const files = { 'left-lens': 1, 'right-lens': 0 };
    expect(assignFiles(['r.jpg', 'l.jpg'], null, [])).toEqual({ how: 'by-name', files });
    expect(assignFiles(['r.jpg', 'DSC1.jpg'], null, [])).toEqual({ how: 'by-name', files });
    expect(assignFiles(['DSC1.jpg', 'left.jpg'], 'right-lens', [])).toEqual({ how: 'by-name', files });
  });

  it('go in the order of their names where these say nothing or the same', () => {
    const files = { 'left-lens': 1, 'right-lens': 0 };
    expect(assignFiles(['DSC10.jpg', 'DSC9.jpg'], null, [])).toEqual({ how: 'in-order', files });
    expect(assignFiles(['left2.jpg', 'left1.jpg'], null, [])).toEqual({ how: 'in-order', files });
  });

  it('are a question where one is none of the pair', () => {
    expect(assignFiles(['bare.jpg', 'left.jpg'], null, [])).toEqual({
      how: 'question',
      files: { bare: 0, 'left-lens': 1 },
    });
    expect(assignFiles(['1.jpg', '2.jpg'], 'closing', []).how).toBe('question');
  });
});

describe('more files', () => {
  it('are a question, with what their names suggest', () => {
    const names = Array.from({ length: 20 }, (_, i) => `DSC${i}.jpg`);
    expect(assignFiles(names, null, [])).toEqual({ how: 'question', files: {} });
    expect(assignFiles(['a.jpg', 'right.jpg', 'left.jpg'], null, [])).toEqual({
      how: 'question',
      files: { 'left-lens': 2, 'right-lens': 1 },
    });
  });
});
