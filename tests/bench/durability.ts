/**
 * Kills programs that save entries, at random moments, and looks at what is left. Ends with 1 where anything that was
 * reported saved is lost or altered, or anything is half there.
 *
 *   npm run test:durability -- [--kills 1000] [--seed 1]
 *
 * A quarter of the kills come on top, with two programs that write into the same logbook.
 */
import { parseArgs } from 'node:util';
import { type KillReport, killAndLook } from '../logbook/kill-and-look.ts';

const { values: options } = parseArgs({
  options: { kills: { type: 'string', default: '1000' }, seed: { type: 'string', default: '1' } },
});
const kills = Number(options.kills);
const seed = Number(options.seed);
if (!(kills >= 1)) throw new RangeError(`--kills needs a number from 1 up, not ${options.kills}`);

const onKill = (done: number) => {
  if (process.stderr.isTTY) process.stderr.write(`\r${done} kills`);
};
const alone = await killAndLook({ kills, seed, onKill });
const together = await killAndLook({ kills: Math.ceil(kills / 8), seed: seed + 1, writers: 2, onKill });
for (const [who, report] of [
  ['one program', alone],
  ['two programs', together],
] as const) {
  console.log(`${who}: ${wordReport(report)}`);
}
process.exitCode = [alone, together].every(isSound) ? 0 : 1;

function isSound({ told, whole, problems, setAside }: KillReport): boolean {
  return told > 0 && whole === told && problems.length === 0 && setAside === 0;
}

function wordReport({ kills: count, told, whole, untold, problems, setAside }: KillReport): string {
  const faults = problems.map(({ code, id, file }) => `\n  ${code} ${id ?? file}`).join('');
  return `${count} kills; ${told} entries reported saved, ${whole} of them whole; ${untold} saved without a report; ${setAside} files set aside; ${problems.length} faults${faults}`;
}
