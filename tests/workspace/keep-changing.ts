/**
 * A program that opens the work in a folder and changes it without end; every change that was acknowledged is printed
 * with the number of its step. It is meant to be killed.
 */
import { openWorkspace } from '../../src/workspace/open-workspace.ts';
import { jpeg } from './jpeg.ts';
import { StandInEngine } from './stand-in-engine.ts';

const folder = process.argv[2]!;
const opened = await openWorkspace({ folder, engine: new StandInEngine(), softwareVersion: '1' });
if (!opened.ok) throw new Error(opened.failure.message);
const work = opened.value;
for (let step = 1; ; step++) {
  const changes = {
    photograph: work.addPhotograph({ set: 'shots', role: 'left-lens' }, `${step}.jpg`, jpeg(String(step))),
    aspect: work.call('aspect.set', { aspect: 1.5 + step / 1e6 }),
    settings: work.call('settings.change', { text_size_pct: 100 + (step % 100) }),
  };
  for (const [kind, change] of Object.entries(changes)) {
    const outcome = await change;
    if (!outcome.ok) throw new Error(outcome.failure.message);
    process.stdout.write(`${kind} ${step}\n`);
  }
}
