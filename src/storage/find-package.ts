/** Where this package lies and which version it is; works from the sources and from the built file alike. */
import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

export interface PackageFacts {
  readonly root: string;
  readonly version: string;
}

export function findPackage(): PackageFacts {
  for (let folder = dirname(fileURLToPath(import.meta.url)); ; folder = dirname(folder)) {
    const facts = readPackage(folder);
    if (facts) return facts;
    if (folder === dirname(folder)) throw new Error('the package.json of twinplumb is missing');
  }
}

function readPackage(root: string): PackageFacts | undefined {
  try {
    const { name, version } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
    return name === 'twinplumb' ? { root, version: String(version) } : undefined;
  } catch {
    return undefined;
  }
}
