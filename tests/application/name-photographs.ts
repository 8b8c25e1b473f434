/** One photograph through each lens, and perhaps a closing one, as a measurement is asked for. */
import type { PhotographSource } from '../../src/application/shot/read-photographs.ts';

export function photographsOf(left: string, right: string, closing?: string): PhotographSource[] {
  return [
    { role: 'left-lens', path: left },
    { role: 'right-lens', path: right },
    ...(closing === undefined ? [] : [{ role: 'closing' as const, path: closing }]),
  ];
}
