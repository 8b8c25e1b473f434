/** The report of a round as one HTML file, with the photographs laid over each other and the evidence. */
import { embedPictures } from '../application/pictures/embed-pictures.ts';
import type { Round, Workspace } from '../contract/workspace.ts';
import type { Engine } from '../engine/engine.ts';
import type { EvennessRecord } from '../record/evenness.ts';
import type { MeasuredReading, Reading } from '../record/reading.ts';
import type { ReportPictures } from '../report/html/pictures.ts';
import { renderHtmlReport, type ReportOptions } from '../report/html/render-html.ts';
import type { LensRole } from '../record/roles.ts';

export interface ReportOrder {
  /** With the causes weighed by the answers of checks, where there are any. */
  readonly reading: Reading;
  readonly at: string;
  /** Undefined where a photograph is missing: the report is made without pictures then. */
  readonly paths: { readonly left: string; readonly right: string } | undefined;
  readonly options: ReportOptions;
}

export async function composeReport({ reading, at, paths, options }: ReportOrder, engine: Engine): Promise<string> {
  const pictures = reading.outcome === 'measured' && paths ? await drawPictures(reading, paths, engine) : undefined;
  return renderHtmlReport({ ...reading, measured_at: at }, pictures, options);
}

/** The light that was measured of the very photographs of a round. */
export function lightOfRound({ shots }: Round, { light }: Pick<Workspace, 'light'>): EvennessRecord | undefined {
  const evenness = light?.evenness;
  if (evenness?.outcome !== 'measured' || evenness.subject !== 'target') return undefined;
  const isOf = (role: LensRole) => evenness.shots.some((shot) => shot.role === role && shot.sha256 === shots[role]);
  return isOf('left-lens') && isOf('right-lens') ? evenness : undefined;
}

export async function drawPictures(
  reading: MeasuredReading,
  { left, right }: NonNullable<ReportOrder['paths']>,
  engine: Engine,
): Promise<ReportPictures> {
  return embedPictures(await engine.makePictures({ leftPath: left, rightPath: right, reading }));
}
