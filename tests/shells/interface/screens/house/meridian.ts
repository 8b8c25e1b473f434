/** The example house, as its file stands among the test images. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Tree } from '../../../../../src/shells/interface/screens/house/house-draft.ts';

const FILE = join(import.meta.dirname, '../../../../../test-images/meridian.house.json');

export const MERIDIAN = JSON.parse(readFileSync(FILE, 'utf8')) as Tree;
