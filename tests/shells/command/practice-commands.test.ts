import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { planFurtherPhotographs } from '../../../src/scene/further-photographs.ts';
import { setUpRehearsal } from '../../../src/scene/rehearsal-set.ts';
import { recordTruth } from '../../../src/scene/truth-record.ts';
import { namePracticeCommands } from '../../../src/shells/command/practice-commands.ts';
import { FURTHER_WORDS, type FurtherWord } from '../../../src/shells/command/rehearsal-options.ts';

const set = setUpRehearsal(2, { photo: { width_px: 640, height_px: 480 } });
function commandsFor(kinds: readonly FurtherWord[], place: { out: string; house?: string }): string[] {
  const { truth } = planFurtherPhotographs(set, { kinds });
  return namePracticeCommands(recordTruth(set, { left: 'left-lens.jpg', right: 'right-lens.jpg' }, truth), place);
}

describe('namePracticeCommands', () => {
  it('names the command for the pair alone', () => {
    const truth = recordTruth(set, { left: 'left-lens.jpg', right: 'right-lens.jpg' });
    expect(namePracticeCommands(truth, { out: 'a' })).toEqual([
      `twinplumb measure --left ${join('a', 'left-lens.jpg')} --right ${join('a', 'right-lens.jpg')}`,
    ]);
  });

  it('names a command for each kind of photograph, with the even surface where there is one', () => {
    expect(commandsFor(['ports', 'open-gate', 'closing', 'bare'], { out: 'a' })).toEqual([
      `twinplumb measure --left ${join('a', 'left-lens.jpg')} --right ${join('a', 'right-lens.jpg')} --closing ${join('a', 'closing.jpg')}`,
      `twinplumb evenness --bare ${join('a', 'bare.jpg')}`,
      `twinplumb evenness --bare ${join('a', 'open-gate.jpg')} --open-gate`,
      `twinplumb ports --left ${join('a', 'ports-left.jpg')} --right ${join('a', 'ports-right.jpg')}`,
    ]);
    const all = commandsFor(FURTHER_WORDS, { out: 'a' });
    expect(all.filter((line) => line.includes('--flat'))).toHaveLength(3);
    expect(all.at(-1)).toMatch(/^twinplumb null (\S+deg\.jpg ){7}--turns [-\d,]+ --lens \w+ --turned polarizer --ref/);
  });

  it('hands the house on, and its shape where a command takes no house', () => {
    const all = commandsFor(FURTHER_WORDS, { out: 'a', house: 'my house.json' });
    for (const line of all.slice(0, -1)) expect(line).toContain(' --house "my house.json"');
    expect(all.at(-1)).toMatch(/ --aspect 2\.35$/);
  });

  it('quotes names that a command line would take apart', () => {
    expect(commandsFor(['ports'], { out: 'my $1 "reh"' })[1]).toContain('--left "my \\$1 \\"reh\\"/ports-left.jpg"');
  });
});
