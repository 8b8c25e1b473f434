/**
 * Whether output has colours, by the conventions that terminals share: NO_COLOR and FORCE_COLOR in the environment, and
 * otherwise where somebody watches on a terminal that can show them.
 */
export function wantsColors(env: Readonly<Record<string, string | undefined>>, isTerminal: boolean): boolean {
  if (env.NO_COLOR) return false;
  if (env.FORCE_COLOR !== undefined) return !['0', 'false'].includes(env.FORCE_COLOR);
  return isTerminal && env.TERM !== 'dumb';
}
