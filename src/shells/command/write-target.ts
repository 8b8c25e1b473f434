/**
 * Writes the files of the alignment target: a picture for each eye (PNG, SVG, PDF), their description and, when asked
 * for, the two-up film frame.
 */
import { ASPECT_RANGE } from '../../kernel/aspect.ts';
import { EYES, type Eye } from '../../kernel/eye.ts';
import { encodePng } from '../../photo/write-photo.ts';
import { layoutChart } from '../../target/chart.ts';
import { describeTarget, filmFrameFiles, TARGET_SCHEMA } from '../../target/describe-target.ts';
import { drawPicture } from '../../target/draw-picture.ts';
import { drawSvg } from '../../target/draw-svg.ts';
import { layoutFilmFrame } from '../../target/film-frame.ts';
import { codePicture, formOfFilmFrame, formOfPicture, rasterise } from '../../target/rasterise.ts';
import { layoutFilmSheet, layoutPictureSheet } from '../../target/sheet.ts';
import { openFolder } from './claim-place.ts';
import { requireRange, wrongUsage } from './exit-status.ts';

export const HEIGHT_RANGE_PX = { min: 200, max: 8000 } as const;

export interface TargetRequest {
  /** Folder for the files; made when it does not exist. */
  readonly out: string;
  readonly aspect: number;
  /** Height of the pictures, px. */
  readonly height: number;
  /** Centre-to-centre distances of the film frames to draw, inches. */
  readonly twoUp_in?: number | readonly number[];
  readonly upperEye?: Eye;
  readonly force?: boolean;
}

/**
 * Returns the paths of the written files. Throws UsageError or UnmetRequest for what cannot be drawn, before anything is
 * written. Each file appears whole or not at all.
 */
export async function writeTarget(request: TargetRequest): Promise<{ files: string[] }> {
  const { out, aspect, height, twoUp_in = [], upperEye = 'right', force = false } = request;
  const { min, max } = HEIGHT_RANGE_PX;
  if (!(Number.isInteger(height) && height >= min && height <= max)) {
    throw wrongUsage('height-range', { min: String(min), max: String(max), value: String(height) });
  }
  requireRange('--aspect', aspect, ASPECT_RANGE.min, ASPECT_RANGE.max);
  const chart = layoutChart(aspect);
  const filmFrames = [twoUp_in]
    .flat()
    .map((centreToCentre_in) => layoutFilmFrame({ centreToCentre_in, aspect, upperEye }));

  // Only this command draws PDFs; the library that assembles them loads when it is needed.
  const { drawPdf } = await import('../../target/draw-pdf.ts');
  const files: string[] = [];
  const put = await openFolder(out, { file: 'target.json', schema: TARGET_SCHEMA }, { force });
  const write = async (name: string, content: Uint8Array | string) => {
    files.push(await put(name, content));
  };
  for (const eye of EYES) {
    const picture = rasterise(drawPicture(chart, eye), formOfPicture(chart, height));
    await write(`target-${eye}.png`, await encodePng(codePicture(picture)));
    const sheet = layoutPictureSheet(chart, eye);
    await write(`target-${eye}.svg`, drawSvg(sheet));
    await write(`target-${eye}.pdf`, await drawPdf(sheet));
  }
  for (const frame of filmFrames) {
    const sheet = layoutFilmSheet(chart, frame);
    const names = filmFrameFiles(frame);
    const shapes = sheet.layers.flatMap((layer) => layer.shapes);
    await write(names.svg, drawSvg(sheet));
    await write(names.pdf, await drawPdf(sheet));
    await write(names.png, await encodePng(codePicture(rasterise(shapes, formOfFilmFrame(frame)))));
  }
  const description = describeTarget(chart, { height_px: height, filmFrames });
  await write('target.json', `${JSON.stringify(description, null, 2)}\n`);
  return { files };
}
