/**
 * One photograph judged by itself, as soon as it is there: whether it can be measured, what it shows, and what might be
 * better. Words are put to it by whoever talks to a person.
 */
import type { Eye } from '../kernel/eye.ts';

export interface PhotoToExamine {
  readonly path: string;
  /** What it was taken through. */
  readonly slot: 'left-lens' | 'right-lens' | 'closing' | 'bare';
  /** Picture width over height of the target. */
  readonly aspect: number;
}

/** What might be better, the most urgent first. */
export type ExaminationCode = 'bright' | 'dim' | 'soft' | 'few-marks' | 'small' | 'oblique' | 'both-eyes' | 'good';

type Facts = Readonly<Record<string, number | string>>;

export interface UsablePhoto {
  readonly outcome: 'usable';
  readonly code: ExaminationCode;
  /** Numbers behind the code, with their unit in the key. */
  readonly facts: Facts;
  readonly shows: Eye | 'both';
  /** Weaker over stronger picture, percent; null where the weaker one is too faint to be found by itself. */
  readonly leak_pct: number | null;
  readonly blur_px: number;
  readonly clipped_pct: number;
  /** Code value of the brightest marks as a part of full scale, 0 to 1. */
  readonly brightest: number;
  /** Photo px. */
  readonly marks: readonly { readonly id: string; readonly eye: Eye; readonly x: number; readonly y: number }[];
  readonly expected: number;
}

export interface RefusedPhoto {
  readonly outcome: 'refused';
  readonly code: string;
  readonly facts: Facts;
}

export type UnwordedExamination = UsablePhoto | RefusedPhoto;

export interface ExaminedPhoto {
  /** Null where the file could not be read as a photograph. */
  readonly sha256: string | null;
  readonly width_px: number | null;
  readonly height_px: number | null;
  readonly examination: UnwordedExamination;
}
