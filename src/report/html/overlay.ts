/**
 * The two photographs laid over each other with the misalignment drawn on top: arrows from the left-eye picture's
 * points towards the right-eye picture's, lengthened by a stated factor, and the marks that were measured.
 */
import { type Homography, transfer } from '../../kernel/homography.ts';
import type { FieldEvidence, MarkEvidence, MeasuredReading } from '../../record/reading.ts';
import { formatAmount, formatPlace } from '../../wording/terms.ts';
import { coordinate, type Markup, markup } from './markup.ts';
import type { PhotoRegion, ReportPictures } from './pictures.ts';
import { OVERLAY_LEFT, OVERLAY_RIGHT } from './style.ts';

/** The longest arrow is at most this long, in ih, so that arrows of neighbouring points do not run into each other. */
const LONGEST_ARROW_IH = 0.14;
/** Arrows stand at least this far apart, in ih. */
const LEAST_SPACING_IH = 0.16;

/** A factor of one figure (1, 2 … 9, 10, 20 …) that keeps the longest arrow short enough; never below 1. */
export function chooseExaggeration(longest_pct: number): number {
  const most = (100 * LONGEST_ARROW_IH) / longest_pct;
  if (!Number.isFinite(most)) return 1;
  const power = 10 ** Math.floor(Math.log10(most));
  return Math.max(1, Math.floor(most / power) * power);
}

/** A coarser grid out of the field's grid, even about the picture's centre. */
function thinOut(field: readonly FieldEvidence[]): readonly FieldEvidence[] {
  const kept = ([0, 1] as const).map((axis) => {
    const lines = [...new Set(field.map((point) => point.at[axis]))].sort((a, b) => a - b);
    const step = (lines.at(-1)! - lines[0]!) / Math.max(1, lines.length - 1);
    const stride = Math.max(1, Math.ceil(LEAST_SPACING_IH / step - 1e-6));
    const first = Math.floor(((lines.length - 1) % stride) / 2);
    return new Set(lines.filter((_, i) => i >= first && (i - first) % stride === 0));
  });
  return field.filter((point) => kept[0]!.has(point.at[0]) && kept[1]!.has(point.at[1]));
}

/** The picture area with a margin, when no photograph is shown. */
function regionOfPicture(photoFromChart: Homography, aspect: number): PhotoRegion {
  const corners = cornersInPhoto(photoFromChart, aspect);
  const xs = corners.map((p) => p.x);
  const ys = corners.map((p) => p.y);
  const width = Math.max(...xs) - Math.min(...xs);
  const height = Math.max(...ys) - Math.min(...ys);
  const margin = LONGEST_ARROW_IH * height;
  return {
    x: Math.min(...xs) - margin,
    y: Math.min(...ys) - margin,
    width: width + 2 * margin,
    height: height + 2 * margin,
  };
}

function cornersInPhoto(photoFromChart: Homography, aspect: number) {
  const half = aspect / 2;
  return [
    { x: -half, y: 0.5 },
    { x: half, y: 0.5 },
    { x: half, y: -0.5 },
    { x: -half, y: -0.5 },
  ].map((corner) => transfer(photoFromChart, corner));
}

export function drawOverlay(reading: MeasuredReading, pictures: ReportPictures | undefined): Markup {
  const { evidence, house } = reading;
  const left: Homography = evidence.photo_from_chart.left;
  const { aspect } = house;
  const overlay = pictures?.overlay ?? null;
  const region = overlay?.region ?? regionOfPicture(left, aspect);
  const pen = region.width / 1000;
  const field = thinOut(evidence.field);
  const longest_pct = Math.max(0, ...evidence.field.map((p) => Math.hypot(p.dx_pct, p.dy_pct)));
  const factor = chooseExaggeration(longest_pct);
  const outline = cornersInPhoto(left, aspect)
    .map((p) => `${coordinate(p.x)},${coordinate(p.y)}`)
    .join(' ');
  const worst = reading.misalignment.worst_vertical_pct;
  const image = overlay
    ? markup`<image href="${overlay.dataUri}" x="${region.x}" y="${region.y}" width="${region.width}" height="${region.height}" preserveAspectRatio="none" opacity="0.8"/>`
    : null;
  const label = `Displacement of the right-eye picture against the left-eye picture, arrows ${factor} times as long as the displacement`;
  return markup`<figure><svg class="overlay" viewBox="${coordinate(region.x)} ${coordinate(region.y)} ${coordinate(region.width)} ${coordinate(region.height)}" role="img" aria-label="${label}">${image}<polygon points="${outline}" fill="none" stroke="#fff" stroke-opacity="0.6" stroke-width="${coordinate(pen)}" stroke-dasharray="${coordinate(6 * pen)} ${coordinate(5 * pen)}"/>${evidence.marks.map((mark) => drawMark(mark, pen))}${field.map((point) => drawArrow(point, left, factor, pen))}${drawWorst(worst.at, left, pen)}</svg><figcaption><span><svg viewBox="0 0 32 16"><path d="M2 8H24" stroke="#16191d" stroke-width="3"/><path d="M31 8 22 2.5v11Z" fill="#16191d"/></svg>right-eye picture against left-eye picture, drawn ${factor === 1 ? 'to scale' : `${factor} times as long`}; the longest is ${formatAmount(longest_pct, '%')} of the picture height</span><span><svg viewBox="0 0 32 16"><rect width="32" height="16" fill="${OVERLAY_LEFT}"/></svg>left lens</span><span><svg viewBox="0 0 32 16"><rect width="32" height="16" fill="${OVERLAY_RIGHT}"/></svg>right lens</span><span><svg viewBox="0 0 32 16"><path d="M10 2 22 14M22 2 10 14" stroke="#16191d" stroke-width="2.5"/></svg>mark left out of the fit</span><span><svg viewBox="0 0 32 16"><rect x="9" y="1" width="14" height="14" fill="none" stroke="#16191d" stroke-width="2"/></svg>worst vertical error: ${formatAmount(worst.value, '%')}, ${formatPlace(worst.at, aspect)}</span></figcaption></figure>`;
}

function drawMark(mark: MarkEvidence, pen: number): Markup {
  const [x, y] = mark.photo_px.map(coordinate) as [number, number];
  const r = coordinate(5 * pen);
  if (!mark.used) {
    const d = `M${x - r} ${y - r}L${x + r} ${y + r}M${x + r} ${y - r}L${x - r} ${y + r}`;
    return markup`<path d="${d}" stroke="#fff" stroke-width="${coordinate(4 * pen)}"/><path d="${d}" stroke="#16191d" stroke-width="${coordinate(2 * pen)}"/>`;
  }
  const colour = mark.eye === 'left' ? OVERLAY_LEFT : OVERLAY_RIGHT;
  return markup`<circle cx="${x}" cy="${y}" r="${coordinate(3.2 * pen)}" fill="${colour}" stroke="#0d0f12" stroke-width="${coordinate(0.8 * pen)}"/>`;
}

function drawArrow(point: FieldEvidence, photoFromChart: Homography, factor: number, pen: number): Markup {
  const [cx, cy] = point.at;
  const base = transfer(photoFromChart, { x: cx, y: cy });
  const far = transfer(photoFromChart, {
    x: cx + (factor * point.dx_pct) / 100,
    y: cy + (factor * point.dy_pct) / 100,
  });
  const dx = far.x - base.x;
  const dy = far.y - base.y;
  const length = Math.hypot(dx, dy);
  if (length < pen)
    return markup`<circle cx="${coordinate(base.x)}" cy="${coordinate(base.y)}" r="${coordinate(1.5 * pen)}" fill="#fff"/>`;
  const ux = dx / length;
  const uy = dy / length;
  const head = Math.min(11 * pen, 0.6 * length);
  const [x0, y0] = point.photo_px;
  const tip = { x: x0 + dx, y: y0 + dy };
  const neck = { x: tip.x - head * ux, y: tip.y - head * uy };
  const wing = 0.42 * head;
  const shaft = `M${coordinate(x0)} ${coordinate(y0)}L${coordinate(neck.x)} ${coordinate(neck.y)}`;
  const arrow = `M${coordinate(tip.x)} ${coordinate(tip.y)}L${coordinate(neck.x - wing * uy)} ${coordinate(neck.y + wing * ux)} ${coordinate(neck.x + wing * uy)} ${coordinate(neck.y - wing * ux)}Z`;
  return markup`<path d="${shaft}${arrow}" fill="#0d0f12" stroke="#0d0f12" stroke-width="${coordinate(5.5 * pen)}" stroke-linejoin="round"/><path d="${shaft}" stroke="#fff" stroke-width="${coordinate(2.6 * pen)}"/><path d="${arrow}" fill="#fff"/>`;
}

function drawWorst(at: readonly [number, number], photoFromChart: Homography, pen: number): Markup {
  const { x, y } = transfer(photoFromChart, { x: at[0], y: at[1] });
  const half = 11 * pen;
  return markup`<rect x="${coordinate(x - half)}" y="${coordinate(y - half)}" width="${coordinate(2 * half)}" height="${coordinate(2 * half)}" fill="none" stroke="#fff" stroke-width="${coordinate(2.2 * pen)}"/>`;
}
