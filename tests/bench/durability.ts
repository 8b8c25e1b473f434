/**
 * Kills programs that save entries, at random moments, and looks at what is left. Ends with 1 where anything that was
 * reported saved is lost or altered, or anything is half there.
 *
 *   npm run test:durability -- [--kills 1000] [--seed 1] [--lanes 4]
 *
 * A quarter of the kills come on top, with two programs that write into the same logbook. The lanes are logbooks of their
 * own that are worked at side by side, because most of the time goes to starting programs.
 */
import { parseArgs } from 'node:util';
import { type KillReport, killAndLook } from '../logbook/kill-and-look.ts';

const { values: options } = parseArgs({
  options: {
    kills: { type: 'string', default: '1000' },
    seed: { type: 'string', default: '1' },
    lanes: { type: 'string', default: '4' },
  },
});
const kills = Number(options.kills);
const seed = Number(options.seed);
if (!(kills >= 1)) throw new RangeError(`--kills needs a number from 1 up, not ${options.kills}`);

const lanes = Number(options.lanes);
let done = 0;
const onKill = () => {
  done += 1;
  if (process.stderr.isTTY) process.stderr.write(`\r${done} times`);
};

/** `times` programs, or pairs of them, are killed, shared out among the lanes. */
async function killInLanes(times: number, writers: number, firstSeed: number): Promise<KillReport> {
  const share = (lane: number) => Math.floor((times * (lane + 1)) / lanes) - Math.floor((times * lane) / lanes);
  const parts = await Promise.all(
    Array.from({ length: lanes }, (_, lane) =>
      killAndLook({ kills: share(lane), seed: firstSeed + lane, writers, onKill }),
    ),
  );
  const sum = (count: (report: KillReport) => number) => parts.reduce((total, report) => total + count(report), 0);
  return {
    kills: sum((report) => report.kills),
    told: sum(({ told }) => told),
    whole: sum(({ whole }) => whole),
    untold: sum(({ untold }) => untold),
    quarantine: sum(({ quarantine }) => quarantine),
    problems: parts.flatMap(({ problems }) => problems),
  };
}

const reports: KillReport[] = [];
for (const [who, times, writers] of [
  ['one program', kills, 1],
  ['two programs', Math.ceil(kills / 8), 2],
] as const) {
  const report = await killInLanes(times, writers, seed + 1000 * writers);
  reports.push(report);
  console.log(`${who}: ${formatReport(report)}`);
}
process.exitCode = reports.every(isSound) ? 0 : 1;

function isSound({ told, whole, problems, quarantine }: KillReport): boolean {
  return told > 0 && whole === told && problems.length === 0 && quarantine === 0;
}

function formatReport({ kills: count, told, whole, untold, problems, quarantine }: KillReport): string {
  const faults = problems.map(({ code, id, file }) => `\n  ${code} ${id ?? file}`).join('');
  return `${count} kills; ${told} entries reported saved, ${whole} of them whole; ${untold} saved without a report; ${quarantine} files set aside; ${problems.length} faults${faults}`;
}
