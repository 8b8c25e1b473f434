/**
 * How well a hand that follows the live needle sets the screws of an attachment whose effects are not what the House says.
 *
 *   npm run bench:live-turning -- [--attachments 100] [--rate 15]
 *
 * For every turn: what was truly left when it said stop, against twice the uncertainty of the picture and what the hand can
 * set. For every attachment: whether the whole is within its limits afterwards, without a further photograph.
 */
import { readFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { TERMS } from '../../src/geometry/misalignment.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { percentile } from '../../src/kernel/statistics.ts';
import { isInside, limitTerms } from '../../src/limits/tolerances.ts';
import { readHouse } from '../../src/record/house.ts';
import { describeOptics } from '../../src/turns/effects.ts';
import { covarianceAsStated, makeLever } from '../../src/turns/turns-problem.ts';
import { formatTable } from './format-table.ts';
import { drawAttachment } from './simulated-attachment.ts';
import { turnAll } from './simulated-turning.ts';

const { values } = parseArgs({
  options: { attachments: { type: 'string', default: '100' }, rate: { type: 'string', default: '15' } },
});
const ASPECT = 2.35;
const parsed = readHouse(
  JSON.parse(readFileSync(new URL('../../test-images/meridian.house.json', import.meta.url), 'utf8')),
);
if (parsed.outcome === 'refused') throw new Error('the house file cannot be read');
const { house } = parsed;
const optics = describeOptics(house);
const levers = house.attachment!.adjustments.map((adjustment) => makeLever(adjustment, optics));
const limits = limitTerms(house, ASPECT);

const rows = [0.1, 0.3, 0.5].map((off) => {
  const random = createRandom(1);
  const evenings = Array.from({ length: Number(values.attachments) }, () => {
    const attachment = drawAttachment({ name: '', off, reversed: false, unknown: false }, random);
    const evening = turnAll(
      attachment,
      {
        levers,
        steps: levers.map(({ adjustment }) => adjustment.id),
        wanted: TERMS,
        limits: limits.terms,
        aspect: 2.35,
        keepInPlace: house.attachment!.keep_in_place ?? 'pair-centre',
        between: covarianceAsStated,
      },
      Number(values.rate),
    );
    const within = TERMS.slice(0, 3).every((term, k) => isInside(limits, term, attachment.terms[k]!));
    return { ...evening, within };
  });
  const turns = evenings.flatMap((evening) => evening.turns);
  const share = (part: number, of: number) => `${((100 * part) / of).toFixed(1)} % of ${of}`;
  return [
    `${100 * off} % off`,
    share(turns.filter(({ left, allowed }) => Math.abs(left) <= allowed).length, turns.length),
    percentile(
      turns.map(({ seconds }) => seconds),
      50,
    ).toFixed(1),
    share(evenings.filter(({ last }) => last.state === 'finished').length, evenings.length),
    share(evenings.filter(({ within }) => within).length, evenings.length),
    percentile(
      evenings.map(({ seconds }) => seconds),
      50,
    ).toFixed(0),
  ];
});
console.log(
  formatTable(
    ['effects', 'within 2 u and the hand at stop', 's a turn', 'finished', 'offsets and rotation within', 's in all'],
    rows,
  ),
);
