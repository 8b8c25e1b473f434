/**
 * What target.json says: the chart in chart coordinates, so that whoever reads a photograph of it later knows where
 * everything stood, and how its pictures and film frames were made.
 */
import { EYES } from '../kernel/eye.ts';
import { BRIGHT_AXIS_DEG, type Chart, MARK_PROPORTIONS } from './chart.ts';
import { CODE_SECTORS } from './codebook.ts';
import { rungDepth } from './draw-ladder.ts';
import { greyCells } from './draw-picture.ts';
import type { FilmFrame } from './film-frame.ts';
import { FILM_PX_PER_MM, formOfPicture } from './rasterise.ts';

export const TARGET_SCHEMA = 'twinplumb.target/1';

export interface TargetFiles {
  /** Height of the pictures, pixels. */
  readonly height_px: number;
  readonly filmFrames?: readonly FilmFrame[];
}

export function describeTarget(chart: Chart, { height_px, filmFrames = [] }: TargetFiles) {
  const { width, height, toPixel } = formOfPicture(chart, height_px);
  const origin = toPixel({ x: 0, y: 0 });
  return {
    schema: TARGET_SCHEMA,
    aspect: chart.aspect,
    frame: {
      unit: 'picture height',
      origin: 'picture centre',
      x: 'right',
      y: 'up',
      eyes: 'both eyes share these coordinates',
    },
    pictures: {
      width_px: width,
      height_px: height,
      coding: 'sRGB, 8 bit',
      files: { left: 'target-left.png', right: 'target-right.png' },
      pixel_frame: 'the centre of the top-left pixel is (0, 0); x right, y down',
      pixel_from_chart: [
        [height, 0, origin.x],
        [0, -height, origin.y],
        [0, 0, 1],
      ],
    },
    mark_form: {
      crossing_radius: MARK_PROPORTIONS.crossing,
      ring_inner_radius: MARK_PROPORTIONS.ringInner,
      ring_outer_radius: MARK_PROPORTIONS.ringOuter,
      radii: 'fractions of the radius of the mark',
      bright_axis_deg: BRIGHT_AXIS_DEG,
      code_sectors: CODE_SECTORS,
      code: 'bit j of word is the ring sector that starts j/code_sectors of a turn counter-clockwise from the bright axis',
    },
    counts: Object.fromEntries(EYES.map((eye) => [eye, chart.marks.filter((mark) => mark.eye === eye).length])),
    marks: chart.marks.map(({ id, eye, kind, x, y, radius, word }) => ({
      id,
      eye,
      kind,
      x,
      y,
      radius,
      size: 2 * radius,
      word,
    })),
    lettering: chart.lettering,
    grey_steps: chart.greySteps.map((strip) => ({
      ...strip,
      cells: greyCells(strip).map(({ level, left, right, bottom, top }) => ({
        level,
        x: (left + right) / 2,
        y: (bottom + top) / 2,
        width: right - left,
        height: top - bottom,
      })),
    })),
    ladders: chart.ladders.map((ladder) => ({
      ...ladder,
      percent_of: ladder.edge === 'top' || ladder.edge === 'bottom' ? 'picture height' : 'picture width',
      rung_depths: ladder.rungs_pct.map((rung_pct) => rungDepth(ladder, rung_pct)),
    })),
    film_frames: filmFrames.map(describeFilmFrame),
  };
}

function describeFilmFrame(frame: FilmFrame) {
  return {
    centre_to_centre_in: frame.centreToCentre_in,
    centre_to_centre_mm: frame.centreToCentre_mm,
    upper_eye: frame.upperEye,
    picture_width_mm: frame.pictureWidth_mm,
    picture_height_mm: frame.pictureHeight_mm,
    septum_mm: frame.septum_mm,
    frame_line_mm: frame.frameLine_mm,
    film_width_mm: frame.filmWidth_mm,
    frame_height_mm: frame.frameHeight_mm,
    frame:
      'x in mm from the reference edge, y in mm up from the frame centre; the pictures stand upright and read rightly',
    pictures: frame.pictures,
    perforations_y_mm: frame.perforations_y_mm,
    png_px_per_mm: FILM_PX_PER_MM,
    files: filmFrameFiles(frame),
  };
}

/** Names of the files of a film frame. */
export function filmFrameFiles({ centreToCentre_in }: Pick<FilmFrame, 'centreToCentre_in'>) {
  const name = `two-up-${centreToCentre_in}`;
  return { svg: `${name}.svg`, pdf: `${name}.pdf`, png: `${name}.png` };
}
