/** How it was measured and from what: enough to repeat the measurement in five years. */
import { type Slant, slantOf } from '../../kernel/view.ts';
import type { MeasuredReading, Reading, ReadingShot } from '../../record/reading.ts';
import { formatFigures, formatNumber } from '../../wording/numbers.ts';
import { formatMarks } from '../../wording/eyes.ts';
import { type Insertable, type Markup, markup } from './markup.ts';
import { drawSection, drawWideSection } from './section.ts';
import { drawLimitsTable } from './terms-table.ts';

export function drawLimits(reading: MeasuredReading): Markup {
  return drawWideSection('Limits in force', 'And where they come from', drawLimitsTable(reading.findings));
}

export function drawMethod(reading: MeasuredReading): Markup {
  const { evidence, marks, house, steadiness } = reading;
  const used = evidence.marks.filter((mark) => mark.used);
  const rms = Math.sqrt(
    used.reduce((sum, { residual_px: [x, y] }) => sum + x * x + y * y, 0) / Math.max(1, 2 * used.length),
  );
  const { distortion, blur_px } = evidence;
  return drawSection(
    'Method',
    'Photographs, software, house',
    markup`<p>Each mark’s crossing was located in the photographs. One camera pose with one radial distortion and two plane projective maps, one for each eye’s picture, were fitted to all marks together; the difference of the two maps, right minus left, is the misalignment. The camera’s place drops out. Uncertainties follow the <i>Guide to the Expression of Uncertainty in Measurement</i> (coverage factor 1).</p>`,
    drawFacts([
      ['House', house.assumed ? 'none given' : `${house.name}: ${formatHouse(reading)}`],
      ['Camera', formatSlant(slantOf(evidence.photo_from_chart.left))],
      ['Marks', formatMarks(marks)],
      [
        'Steadiness',
        steadiness === null
          ? 'not known: no ghost was strong enough to see a movement'
          : `camera and film moved ${formatFigures(steadiness.movement_px.value)} ± ${formatFigures(2 * steadiness.movement_px.u, 1)} px between the photographs`,
      ],
      ['Residuals', `${formatNumber(rms, 3)} px root mean square`],
      [
        'Distortion of the camera lens',
        `k1 ${formatFigures(distortion.k1)}, k2 ${formatFigures(distortion.k2)} at ${formatFigures(distortion.radius_px, 4)} px`,
      ],
      [
        'Softness of edges',
        `${formatFigures(blur_px['left-lens'])} px left lens, ${formatFigures(blur_px['right-lens'])} px right lens`,
      ],
      ...drawShotFacts(reading),
    ]),
  );
}

const ROLES: Readonly<Record<ReadingShot['role'], string>> = {
  'left-lens': 'Through the left lens',
  'right-lens': 'Through the right lens',
  closing: 'Through the left lens again, last',
};

export function drawShotFacts(reading: Reading): readonly (readonly [string, Insertable])[] {
  return [
    ...reading.shots.map((shot): readonly [string, Insertable] => [
      ROLES[shot.role],
      markup`${shot.file}, ${shot.width_px} × ${shot.height_px} px<br><code>SHA-256 ${shot.sha256}</code>`,
    ]),
    ['Software', `${reading.software.name} ${reading.software.version}, ${reading.schema}`],
  ];
}

export function drawFacts(facts: readonly (readonly [string, Insertable])[]): Markup {
  return markup`<dl class="facts">${facts.map(([name, value]) => markup`<dt>${name}</dt><dd>${value}</dd>`)}</dl>`;
}

/** Angles below this are not worth a side. */
const SQUARE_DEG = 0.5;

function formatSlant({ aside_deg, above_deg }: Slant): string {
  const parts = [
    Math.abs(aside_deg) < SQUARE_DEG
      ? null
      : `${formatNumber(Math.abs(aside_deg), 1)}° from the ${aside_deg > 0 ? 'right' : 'left'}`,
    Math.abs(above_deg) < SQUARE_DEG
      ? null
      : `${formatNumber(Math.abs(above_deg), 1)}° from ${above_deg > 0 ? 'above' : 'below'}`,
  ].filter((part) => part !== null);
  return `it saw the picture ${parts.length === 0 ? 'square on' : parts.join(' and ')}, the slant of the projection included`;
}

function formatHouse({ house }: MeasuredReading): string {
  const parts = [
    house.picture_width_mm === null ? null : `picture ${formatNumber(house.picture_width_mm / 1000, 2)} m wide`,
    house.picture_height_mm === null ? null : `${formatNumber(house.picture_height_mm / 1000, 2)} m high`,
    house.throw_m === null ? null : `throw ${formatFigures(house.throw_m, 3)} m`,
    house.nearest_row_m === null ? null : `nearest row ${formatFigures(house.nearest_row_m, 3)} m`,
    house.reference_seat_m === null
      ? null
      : `reference seat ${formatFigures(house.reference_seat_m, 3)} m from the screen`,
  ];
  return parts.filter((part) => part !== null).join(', ');
}
