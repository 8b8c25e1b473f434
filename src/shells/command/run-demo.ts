/** `demo`: measures the photographs of the invented house that come with the program, as `measure` would. */
import { join, resolve } from 'node:path';
import { describeLight } from '../../application/light/describe-light.ts';
import { measurePair } from '../../application/measure-pair.ts';
import type { Software, Terminal } from './command-line.ts';
import type { ExitStatus } from './exit-status.ts';
import { runMeasure } from './run-measure.ts';

/** The right-eye picture too high: the fault that the operator meets most. */
const SET = 'meridian-02-vertical';

export async function runDemo(report: string, { root, version }: Software, terminal: Terminal): Promise<ExitStatus> {
  const shipped = (...name: string[]) => join(root, 'test-images', ...name);
  const order = {
    left: shipped(SET, 'left-lens.jpg'),
    right: shipped(SET, 'right-lens.jpg'),
    house: shipped('meridian.house.json'),
    report,
  };
  const { print } = terminal;
  const world = { measurePair, describeLight, softwareVersion: version, print, remark: () => {} };
  const status = await runMeasure(order, world);
  print(`\nThe report with the photographs: ${resolve(report)}\n`);
  return status;
}
