/**
 * A reading as one self-contained HTML document: nothing is loaded from anywhere, nothing runs. The sentence first,
 * then the verdicts, then what to do with the cautions beside it, then the numbers and the evidence.
 */
import type { EvennessRecord } from '../../record/evenness.ts';
import type { MeasuredReading, Reading, RefusedReading } from '../../record/reading.ts';
import type { AnsweredCheck } from '../../wording/causes.ts';
import { describeFinding, formatFinding, formatVerdict, mostSevereByCode } from '../../wording/findings.ts';
import { summariseLight } from '../../wording/light.ts';
import { formatMoment } from '../../wording/date-time.ts';
import { drawCauses } from './causes-list.ts';
import { drawEvidence } from './evidence.ts';
import { drawEyesPanel } from './eyes-panel.ts';
import { composeDocument, type Paper } from './document.ts';
import { drawKept, type KeptEntry } from './kept-facts.ts';
import { type Markup, markup } from './markup.ts';
import { drawFacts, drawLimits, drawMethod, drawShotFacts } from './method.ts';
import { drawOverlay } from './overlay.ts';
import type { ReportPictures } from './pictures.ts';
import { drawSection, drawWideSection } from './section.ts';
import { drawTermsTable } from './terms-table.ts';
import { drawIncurable, drawTurns } from './turns-list.ts';
import { drawVerdictShape } from './verdict-shape.ts';

/** Characters from which the sentence is set smaller, to stay in sight with the verdicts. */
const LONG_SENTENCE = 120;

export interface ReportOptions {
  readonly paper?: Paper | undefined;
  /** Light of the same photographs, where it was measured. */
  readonly light?: EvennessRecord | undefined;
  /** Checks whose answers the causes are weighed with. */
  readonly answered?: readonly AnsweredCheck[] | undefined;
  /** The entry of the logbook that holds this reading. */
  readonly kept?: KeptEntry | undefined;
}

export function renderHtmlReport(reading: Reading, pictures?: ReportPictures, options: ReportOptions = {}): string {
  const { paper, kept } = options;
  const isMeasured = reading.outcome === 'measured';
  const title = isMeasured ? reading.sentence : reading.refusal.message;
  const body = isMeasured ? drawMeasured(reading, pictures, options) : drawRefused(reading, options);
  const house = isMeasured && !reading.house.assumed ? reading.house.name : null;
  const at = kept?.entry.saved_at ?? reading.measured_at;
  return composeDocument({
    title,
    body,
    paper,
    running: {
      left: [house, kept?.entry.print].filter(Boolean).join(', ') || 'Twinplumb reading',
      right: at === undefined ? '' : formatMoment(at),
      foot: `${reading.software.name} ${reading.software.version}${kept ? `, entry ${kept.id.slice(0, 12)}` : ''}`,
    },
  });
}

function drawMeasured(
  reading: MeasuredReading,
  pictures: ReportPictures | undefined,
  { kept, answered, light }: ReportOptions,
): Markup {
  const crops = pictures?.crops ?? [];
  return markup`${drawOrigin(reading, reading.house.name)}<main><div class="lead"><h1${reading.sentence.length > LONG_SENTENCE ? markup` class="long"` : null}>${reading.sentence}</h1>${drawVerdicts(reading)}</div>${drawWarnings(reading)}${drawCautions(reading.cautions)}${drawTurns(reading)}${drawIncurable(reading)}${drawCauses(reading.causes, reading.next_check, answered)}${drawSection('The two pictures', 'As the two photographs show them, one laid over the other', drawOverlay(reading, pictures))}${drawWideSection('Misalignment', 'Where the right-eye picture lies on the left-eye picture', drawTermsTable(reading))}${drawEyesPanel(reading)}${light ? drawLight(light) : null}${crops.length > 0 ? drawEvidence(crops) : null}${drawLimits(reading)}${drawMethod(reading)}${kept ? drawKept(kept) : null}</main>`;
}

function drawLight(light: EvennessRecord): Markup {
  const sentences = summariseLight(light).map((sentence) => markup`<p>${sentence}</p>`);
  return drawSection('Light', 'How even it is over the picture, and what both eyes get', markup`${sentences}`);
}

function drawRefused(reading: RefusedReading, { kept, answered }: ReportOptions): Markup {
  const { refusal } = reading;
  const facts = Object.entries(refusal.facts).map(([name, value]) => [name, String(value)] as const);
  return markup`${drawOrigin(reading, null)}<main><div class="lead"><h1>${refusal.message}</h1><p class="why">${refusal.remedy}</p></div>${drawSection('Not measured', 'No number is given where none would be true', drawFacts([['Code', refusal.code], ...facts, ...drawShotFacts(reading)]))}${drawCauses(reading.causes ?? [], reading.next_check, answered)}${reading.cautions ? drawCautions(reading.cautions) : null}${kept ? drawKept(kept) : null}</main>`;
}

function drawOrigin(reading: Reading, house: string | null): Markup {
  return markup`<header class="origin"><b>Twinplumb reading</b>${house === null ? null : markup`<span>${house}</span>`}${reading.measured_at === undefined ? null : markup`<span>${formatMoment(reading.measured_at)}</span>`}</header>`;
}

function drawVerdicts({ findings }: MeasuredReading): Markup {
  return markup`<ul class="verdicts">${mostSevereByCode(findings).map(
    (finding) =>
      markup`<li>${drawVerdictShape(finding.verdict)}<div><b>${describeFinding(finding.code).name}: ${formatVerdict(finding)}</b><span>${formatFinding(finding)}</span></div></li>`,
  )}</ul>`;
}

function drawWarnings({ warnings }: MeasuredReading): Markup | null {
  if (warnings.length === 0) return null;
  return drawSection(
    'To bear in mind',
    'It could be measured all the same',
    markup`<ul>${warnings.map(({ message }) => markup`<li>${message}</li>`)}</ul>`,
  );
}

function drawCautions(cautions: readonly string[]): Markup {
  return drawSection(
    'Cautions',
    'Before hands go anywhere',
    markup`<div class="cautions"><h3>Hands, eyes, lamp</h3><ul>${cautions.map((caution) => markup`<li>${caution}</li>`)}</ul></div>`,
  );
}
