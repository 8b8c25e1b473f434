/** `demo`: measures the photographs of the invented house that come with the program, as `measure` would. */
import { join, resolve } from 'node:path';
import { measurePair } from '../../application/measure-pair.ts';
import type { Software, Terminal } from './command-line.ts';
import type { ExitStatus } from './exit-status.ts';
import { runMeasure } from './run-measure.ts';

export async function runDemo(report: string, { root, version }: Software, terminal: Terminal): Promise<ExitStatus> {
  const shipped = (name: string) => join(root, 'test-images', name);
  const order = {
    left: shipped('meridian-left.jpg'),
    right: shipped('meridian-right.jpg'),
    house: shipped('meridian.house.json'),
    report,
  };
  const { print } = terminal;
  const world = { measurePair, softwareVersion: version, print, remark: () => {} };
  const status = await runMeasure(order, world);
  print(`\nThe report with the photographs: ${resolve(report)}\n`);
  return status;
}
