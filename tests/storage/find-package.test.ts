import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { findPackage } from '../../src/storage/find-package.ts';

describe('the package on disk', () => {
  it('is found from the sources, with the version of its package.json', () => {
    const { root, version } = findPackage();
    expect(existsSync(join(root, 'test-images', 'meridian.house.json'))).toBe(true);
    expect(JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')).version).toBe(version);
    expect(version).toMatch(/^\d+\.\d+\.\d+/);
  });
});
