/**
 * How fast the live camera is: frames judged each second, frames that the page draws meanwhile, and the time from a
 * frame's arrival to its marks on the page.
 *
 *   npm run bench:live -- [--seconds 15]
 *
 * A filmed camera of 1920x1080 at 30 frames a second before a real browser without a window, which draws with the
 * processor alone, and the built browser host: all of it on this machine at once, as it is used. First the watch by
 * itself, in this process, on the frames of the same film.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { availableParallelism, cpus, loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { parseArgs } from 'node:util';
import { createLiveWatch } from '../../src/application/live/live-watch.ts';
import { percentile } from '../../src/kernel/statistics.ts';
import { startHost } from '../end-to-end/run-browser-host.ts';
import {
  cameraArguments,
  FULL_FORM,
  filmOf,
  filmSegments,
  renderStage,
  type Segment,
  standVideoCamera,
} from '../interface/simulated-camera.ts';
import { type BarePage, openBarePage } from './bare-browser.ts';
import { formatTable } from './format-table.ts';

const GOAL = { judged_per_s: 15, drawn_per_s: 50, delay_ms: 150 };
const FILM: readonly Segment[] = [{ through: 'left-lens', frames: 24 }];
const { rate: _, ...SIZE } = FULL_FORM;
const WARM_UP_S = 6;
const WARM_UP_FRAMES = 40;
const COUNTED_FRAMES = 120;

const WATCH = `
  window.drawn = [];
  addEventListener('verdictdrawn', ({ detail }) => {
    const { delay_ms, analysis_ms } = detail;
    const told = performance.now();
    // The marks are seen with the next picture of the page.
    requestAnimationFrame((at_ms) => window.drawn.push({ analysis_ms, delay_ms: delay_ms + Math.max(0, at_ms - told) }));
  });
  window.pictures = 0;
  (function count() { window.pictures++; requestAnimationFrame(count); })();`;

const { values: options } = parseArgs({ options: { seconds: { type: 'string', default: '15' } } });
const seconds = Number(options.seconds);
if (!(seconds >= 2)) throw new RangeError(`--seconds needs a number from 2 up, not ${options.seconds}`);

const machine = `${availableParallelism()} x ${cpus()[0]?.model ?? 'processor'}`;
console.log(`${machine}; load before the run ${loadavg()[0]!.toFixed(2)}\n`);

const alone = judgeAlone();
console.log(
  formatTable(
    ['the watch by itself, ms a frame', 'median', '95 %', 'most', 'processor, mean'],
    [
      [
        'following, and a whole look every 1.5 s',
        ...[50, 95, 100].map((part) => percentile(alone.times, part).toFixed(1)),
        alone.processor_ms.toFixed(1),
      ],
    ],
  ),
);

const { judged, drawnFrames, delays, analyses } = await judgeInBrowser();
console.log(
  `\n${formatTable(
    ['with page and host', 'measured', 'goal'],
    [
      ['frames judged a second', judged.toFixed(1), `>= ${GOAL.judged_per_s}`],
      ['page drawn, times a second', drawnFrames.toFixed(1), `>= ${GOAL.drawn_per_s}`],
      ['from frame to marks, ms, median', percentile(delays, 50).toFixed(0), `< ${GOAL.delay_ms}`],
      ['from frame to marks, ms, 95 %', percentile(delays, 95).toFixed(0), ''],
      ['judging a frame, ms, median', percentile(analyses, 50).toFixed(1), ''],
    ],
  )}\n\nload after the run ${loadavg()[0]!.toFixed(2)}`,
);

/** Frames come every 50 ms of the watch's clock; the first two seconds are left out. */
function judgeAlone() {
  const frames = [...filmSegments(renderStage(standVideoCamera(SIZE.width, SIZE.height)), FILM)];
  const watch = createLiveWatch(2.35);
  const times: number[] = [];
  let before = process.cpuUsage();
  for (let serial = 0; serial < WARM_UP_FRAMES + COUNTED_FRAMES; serial++) {
    if (serial === WARM_UP_FRAMES) before = process.cpuUsage();
    const begun = performance.now();
    watch.judge({ serial, ...SIZE, range: 'video' }, frames[serial % frames.length]!, 50 * serial);
    times.push(performance.now() - begun);
  }
  // What other work on the machine changes least.
  const { user, system } = process.cpuUsage(before);
  return { times: times.slice(WARM_UP_FRAMES), processor_ms: (user + system) / 1000 / COUNTED_FRAMES };
}

interface Drawn {
  readonly delay_ms: number;
  readonly analysis_ms: number;
}

async function judgeInBrowser() {
  const folder = mkdtempSync(join(tmpdir(), 'live-'));
  const host = await startHost(folder);
  const page = await openBarePage(WATCH, cameraArguments(filmOf(FILM)));
  try {
    await page.goTo(host.address);
    await until(page, 'location.pathname === "/" && document.querySelector("nav") !== null');
    await page.goTo(`${host.origin}/#/shots`);
    await until(page, 'document.querySelector("input[value=camera]") !== null');
    await page.evaluate('document.querySelector("input[value=camera]").click()');
    await until(page, 'window.drawn.length > 3');
    await wait(1000 * WARM_UP_S);
    return await count(page);
  } finally {
    await page.close();
    await host.stop();
    rmSync(folder, { recursive: true });
  }
}

async function until(page: BarePage, condition: string): Promise<void> {
  for (let tries = 0; !(await page.evaluate(condition)); tries++) {
    if (tries > 300) throw new Error(`never came true: ${condition}`);
    await wait(200);
  }
}

async function count(page: BarePage) {
  const begun = (await page.evaluate('window.pictures = 0, window.drawn = [], performance.now()')) as number;
  await wait(1000 * seconds);
  const [pictures, drawn, ended] = (await page.evaluate('[window.pictures, window.drawn, performance.now()]')) as [
    number,
    Drawn[],
    number,
  ];
  const lasted_s = (ended - begun) / 1000;
  return {
    judged: drawn.length / lasted_s,
    drawnFrames: pictures / lasted_s,
    delays: drawn.map(({ delay_ms }) => delay_ms),
    analyses: drawn.map(({ analysis_ms }) => analysis_ms),
  };
}
