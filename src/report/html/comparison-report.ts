/** Before and after as one self-contained document: what changed and how surely, beside the pictures of both. */
import type { Comparison, TermChange } from '../../record/comparison.ts';
import {
  describeComparisonMethod,
  formatChange,
  formatDoubt,
  formatLightChange,
  formatStrayChange,
  translateChange,
  translateComparison,
} from '../../wording/comparison.ts';
import { chooseCautions } from '../../wording/cautions.ts';
import { formatMoment } from '../../wording/date-time.ts';
import { nameField } from '../../wording/terms.ts';
import { composeDocument, type Paper } from './document.ts';
import { type KeptEntry, ROLES, formatTurn } from './kept-facts.ts';
import { type Markup, markup } from './markup.ts';
import { drawFacts, drawLimits } from './method.ts';
import { drawOverlay } from './overlay.ts';
import type { ReportPictures } from './pictures.ts';
import { drawSection, drawWideSection } from './section.ts';
import { drawVerdictShape } from './verdict-shape.ts';

export interface ComparedSide {
  readonly kept: KeptEntry;
  readonly pictures: ReportPictures | undefined;
}

export interface ComparisonReport {
  readonly comparison: Comparison;
  readonly before: ComparedSide;
  readonly after: ComparedSide;
  readonly paper?: Paper | undefined;
}

export function renderComparisonReport({ comparison, before, after, paper }: ComparisonReport): string {
  const title = translateComparison(comparison);
  const { entry } = after.kept;
  const house = entry.house?.name ?? 'No house';
  const { doubts, turns_made } = comparison;
  const body = markup`<header class="origin"><b>Twinplumb before and after</b><span>${house}</span><span>${formatMoment(entry.saved_at)}</span></header><main><div class="lead"><h1>${title}</h1><p class="why">By the working limits: ${comparison.before} before, ${comparison.after} after.</p></div>${
    doubts.length === 0
      ? null
      : drawSection(
          'To bear in mind',
          null,
          markup`<ul>${doubts.map((doubt) => markup`<li>${formatDoubt(doubt)}</li>`)}</ul>`,
        )
  }${turns_made.length === 0 ? null : drawSection('Turned between the two', null, markup`<ul>${turns_made.map((turn) => markup`<li>${formatTurn(turn)}</li>`)}</ul>`)}${drawWideSection('What changed', 'Right-eye picture minus left-eye picture', drawChanges(comparison.terms))}${comparison.masking === null ? null : drawMasking(comparison.masking)}${drawWideSection('The two pictures', 'Before on the left, after on the right', markup`<div class="pair">${drawSide('Before', before)}${drawSide('After', after)}</div>`)}${drawSideFacts('Before', before.kept)}${drawSideFacts('After', after.kept)}${entry.reading.outcome === 'measured' ? drawLimits(entry.reading) : null}${drawMethodOfComparison()}${drawCautionsOfWork()}</main>`;
  return composeDocument({
    title: `${title} Before and after`,
    body,
    paper,
    running: {
      left: ['Before and after', house, entry.print].filter(Boolean).join(', '),
      right: formatMoment(entry.saved_at),
      foot: `entries ${before.kept.id.slice(0, 12)} and ${after.kept.id.slice(0, 12)}`,
    },
  });
}

function drawChanges(terms: readonly TermChange[]): Markup {
  return markup`<div class="scroll"><table><thead><tr><th scope="col">Figure</th><th scope="col" class="n">Before</th><th scope="col" class="n">After</th><th scope="col" class="n">Change ± 2 u</th><th scope="col" class="n">By chance</th><th scope="col">Verdict</th></tr></thead><tbody>${terms.map(drawChange)}</tbody></table></div><p class="note">Percent of the picture height; roll in degrees. ${describeComparisonMethod()}</p>`;
}

function drawMasking({ strays, light }: NonNullable<Comparison['masking']>): Markup {
  const sentences = [...strays.map(formatStrayChange), ...light.map(formatLightChange)];
  return drawSection(
    'Stray copies',
    null,
    markup`<ul>${sentences.map((sentence) => markup`<li>${sentence}</li>`)}</ul>`,
  );
}

function drawChange(term: TermChange): Markup {
  const { before, after, change, uncertainty } = formatChange(term);
  const shape = { better: 'within', worse: 'outside', same: null }[term.verdict] as 'within' | 'outside' | null;
  const chance = term.chance < 0.0001 ? '< 0.01 %' : `${(100 * term.chance).toPrecision(2)} %`;
  return markup`<tr><th scope="row">${nameField(term.field)}</th><td class="n">${before}</td><td class="n">${after}</td><td class="n">${change} ± ${uncertainty}</td><td class="n">${chance}</td><td><span class="verdict">${shape ? drawVerdictShape(shape) : null}${translateChange(term)}</span></td></tr>`;
}

function drawSide(name: string, { kept, pictures }: ComparedSide): Markup {
  const { reading } = kept.entry;
  if (reading.outcome !== 'measured') return markup`<div><h3>${name}</h3></div>`;
  return markup`<div><h3>${name}</h3><p>${reading.sentence}</p>${drawOverlay(reading, pictures)}</div>`;
}

function drawSideFacts(name: string, { id, entry }: KeptEntry): Markup {
  const { operator, print, reel, note, saved_at, zone, shots, software } = entry;
  return drawSection(
    name,
    null,
    drawFacts([
      ['Entry', markup`<code>${id}</code>`],
      ['Kept', `${formatMoment(saved_at)}${zone === null ? '' : ` (${zone})`}`],
      ...(
        [
          ['Print', print],
          ['Reel', reel],
          ['Operator', operator],
          ['Note', note],
        ] as const
      ).flatMap(([what, text]) => (text === null ? [] : [[what, text] as const])),
      ...shots.map(
        ({ role, name: file, sha256 }) => [ROLES[role], markup`${file}<br><code>SHA-256 ${sha256}</code>`] as const,
      ),
      ['Software', `${software.name} ${software.version}`],
    ]),
  );
}

function drawMethodOfComparison(): Markup {
  return drawSection(
    'Method',
    null,
    markup`<p>The change of a figure is after minus before; its uncertainty is that of both readings together, which come from different photographs. A change is significant where chance would bring one as large in fewer than one of twenty pairs of readings of an unchanged machine; the twentieth is shared among all rows (Holm). Better is what lies nearer to zero by more than twice the uncertainty of the change.</p>`,
  );
}

function drawCautionsOfWork(): Markup {
  const cautions = chooseCautions({ atProjector: true, atHeight: false });
  return drawSection(
    'Cautions',
    'Before hands go anywhere',
    markup`<div class="cautions"><h3>Hands, eyes, lamp</h3><ul>${cautions.map((caution) => markup`<li>${caution}</li>`)}</ul></div>`,
  );
}
