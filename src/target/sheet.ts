/**
 * A sheet: what a vector file shows. Its picture and its guides are kept apart, so that guides can be switched off.
 */
import type { Eye } from '../kernel/eye.ts';
import type { Chart } from './chart.ts';
import { drawPicture } from './draw-picture.ts';
import type { FilmFrame } from './film-frame.ts';
import { type Box, place, rectangle, type Shape } from './shapes.ts';

/** A straight guide line, in the unit of the sheet. */
export interface GuideLine {
  readonly x1: number;
  readonly y1: number;
  readonly x2: number;
  readonly y2: number;
}

export interface Sheet {
  readonly title: string;
  readonly unit: 'ih' | 'mm';
  /** Printed size of one unit, mm. */
  readonly unit_mm: number;
  /** The sheet's edges, in its unit, y up. */
  readonly edges: Box;
  /** Black grounds and pictures, in painting order. */
  readonly layers: readonly { readonly name: string; readonly shapes: readonly Shape[] }[];
  readonly guides: readonly GuideLine[];
}

/** Printed height of one eye's picture when a vector file of it is opened, mm. */
const PICTURE_SHEET_HEIGHT_MM = 100;

/** Width of guide lines, mm. */
export const GUIDE_WIDTH_MM = 0.03;

/** How far the guide ticks at the perforations reach in from the film's edges, mm; not a perforation's size. */
const PERFORATION_TICK_MM = 1;

/** One eye's picture on black. */
export function layoutPictureSheet(chart: Chart, eye: Eye): Sheet {
  const edges = pictureEdges(chart.aspect);
  return {
    title: `Alignment target, ${eye} eye, ${chart.aspect}:1`,
    unit: 'ih',
    unit_mm: PICTURE_SHEET_HEIGHT_MM,
    edges,
    layers: [{ name: `picture-${eye}`, shapes: [ground(edges), ...drawPicture(chart, eye)] }],
    guides: [],
  };
}

/** The film frame with both pictures at their true size; everything around them is black. */
export function layoutFilmSheet(chart: Chart, frame: FilmFrame): Sheet {
  const [half, film] = [frame.frameHeight_mm / 2, frame.filmWidth_mm];
  const edges: Box = { left: 0, right: film, bottom: -half, top: half };
  const pictures = frame.pictures.map(({ eye, x_mm, y_mm }) => ({
    name: `picture-${eye}`,
    shapes: drawPicture(chart, eye).map((shape) => ({
      ...shape,
      contours: shape.contours.map((contour) => place(contour, { x: x_mm, y: y_mm }, frame.pictureHeight_mm)),
    })),
  }));
  return {
    title: `Two-up 35 mm frame, ${frame.centreToCentre_in} in centre to centre, ${frame.upperEye} eye above`,
    unit: 'mm',
    unit_mm: 1,
    edges,
    layers: [{ name: 'film-ground', shapes: [ground(edges)] }, ...pictures],
    guides: [...outlineOf(edges), ...pictureGuides(frame), ...perforationGuides(frame)],
  };
}

function pictureEdges(aspect: number): Box {
  return { left: -aspect / 2, right: aspect / 2, bottom: -0.5, top: 0.5 };
}

function ground(edges: Box): Shape {
  return { part: 'ground', level: 0, contours: [rectangle(edges)] };
}

function outlineOf({ left, right, bottom, top }: Box): GuideLine[] {
  return [
    { x1: left, y1: bottom, x2: right, y2: bottom },
    { x1: right, y1: bottom, x2: right, y2: top },
    { x1: right, y1: top, x2: left, y2: top },
    { x1: left, y1: top, x2: left, y2: bottom },
  ];
}

function pictureGuides(frame: FilmFrame): GuideLine[] {
  const [w, h] = [frame.pictureWidth_mm / 2, frame.pictureHeight_mm / 2];
  return frame.pictures.flatMap(({ x_mm, y_mm }) =>
    outlineOf({ left: x_mm - w, right: x_mm + w, bottom: y_mm - h, top: y_mm + h }),
  );
}

function perforationGuides(frame: FilmFrame): GuideLine[] {
  return frame.perforations_y_mm.flatMap((y) => [
    { x1: 0, y1: y, x2: PERFORATION_TICK_MM, y2: y },
    { x1: frame.filmWidth_mm - PERFORATION_TICK_MM, y1: y, x2: frame.filmWidth_mm, y2: y },
  ]);
}
