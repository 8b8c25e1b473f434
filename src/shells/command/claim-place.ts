/** A place that the user named for an output -> the path to write to, or a usage error before any work is done. */
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { type ClaimOptions, claimOutput } from '../../storage/claim-output.ts';
import { writeAtomically } from '../../storage/write-atomically.ts';
import { wrongUsage } from './exit-status.ts';

/** How what this program wrote begins or ends. */
export const OWN = {
  report: /<meta name="generator" content="Twinplumb"|% twinplumb\.report\/1\s*$/,
  chain: /"schema"\s*:\s*"twinplumb\.light-chain\//,
  batch: /^\s*\{"schema":"twinplumb\.batch\//m,
  summary: /^set,outcome,verdict,eyes,/,
  bundle: /(?!)/,
  /** Files of a folder whose description is ours. */
  any: /^/,
} as const;

export async function claimPlace(place: string, options: ClaimOptions): Promise<string> {
  const claim = await claimOutput(place, options);
  if (claim.outcome === 'free') return claim.path;
  throw wrongUsage(`output-${claim.why}`, { place });
}

/**
 * Writes files into a folder that the user named. Those that are there already are replaced only where `description`, which
 * the same command wrote there last time, says whose they are.
 */
export async function openFolder(
  folder: string,
  description: { readonly file: string; readonly schema: string },
  options: Pick<ClaimOptions, 'force' | 'inputs'>,
): Promise<(name: string, content: Uint8Array | string) => Promise<string>> {
  const text = await readFile(join(folder, description.file), 'utf8').catch(() => '');
  const own = text.includes(`"schema": "${description.schema}"`) ? OWN.any : OWN.bundle;
  return async (name, content) => {
    const path = join(folder, name);
    await writeAtomically(await claimPlace(path, { ...options, own }), content);
    return path;
  };
}
