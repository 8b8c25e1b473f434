import { expect, it } from 'vitest';
import { isOurAddress, isOurBlob, isPageItself, PAGE_ADDRESS } from '../../../src/shells/desktop/page-address.ts';

it('knows the page and what it loads', () => {
  expect(isPageItself(PAGE_ADDRESS)).toBe(true);
  expect(isPageItself(`${PAGE_ADDRESS}index.html#/turns`)).toBe(true);
  expect(isOurAddress(`${PAGE_ADDRESS}call/workspace.read`)).toBe(true);
  expect(isPageItself(`${PAGE_ADDRESS}rounds/1/report.html`)).toBe(false);
  expect(isOurBlob(`blob:${PAGE_ADDRESS}0f0e`)).toBe(true);
});

it.each([
  undefined,
  '',
  'about:blank',
  'null',
  'desktop',
  'twinplumb:desktop',
  'twinplumb:///desktop/',
  'twinplumb://desktop.example/',
  'twinplumb://desktop@other.example/',
  'twinplumb://desktop:80/',
  'twinplumb://other/desktop/',
  ['https:', '', 'desktop', ''].join('/'),
  'file:///desktop/',
  'data:text/html,twinplumb://desktop/',
  'blob:twinplumb://desktop/1',
  'javascript:twinplumb://desktop/',
])('takes %s for foreign', (address) => {
  expect(isOurAddress(address)).toBe(false);
});

it.each(['blob:https://other.example/1', 'blob:null/1', 'blob:blob:twinplumb://desktop/1', PAGE_ADDRESS])(
  'takes %s for no data of the page',
  (address) => {
    expect(isOurBlob(address)).toBe(false);
  },
);
