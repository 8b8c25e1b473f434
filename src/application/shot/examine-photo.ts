/**
 * One photograph judged by itself, as soon as it is there: whether it can be measured, what it shows, and what might be
 * better. Words are put to it by whoever talks to a person.
 */
import type { Eye } from '../../kernel/eye.ts';
import { readPhoto } from '../../photo/read-photo.ts';
import type { ShotSlot } from '../../record/roles.ts';
import { layoutChart } from '../../target/chart.ts';
import { examineThoroughly } from './examine-shot.ts';
import { type ExaminationFacts, judgeShot, type UsablePhoto } from './judge-shot.ts';

export interface PhotoToExamine {
  readonly path: string;
  /** What it was taken through. */
  readonly slot: ShotSlot;
  /** Picture width over height of the target. */
  readonly aspect: number;
  /** What to call the file where it cannot be read, if not its path. */
  readonly name?: string;
}

export type ExaminingStage = 'reading' | 'looking';

export interface RefusedPhoto {
  readonly outcome: 'refused';
  readonly code: string;
  readonly facts: ExaminationFacts;
}

export type UnwordedExamination = UsablePhoto | RefusedPhoto;

export interface ExaminedPhoto {
  /** Null where the file could not be read as a photograph. */
  readonly sha256: string | null;
  readonly width_px: number | null;
  readonly height_px: number | null;
  readonly examination: UnwordedExamination;
}

export async function examinePhoto(
  { path, slot, aspect, name = path }: PhotoToExamine,
  onStage?: (stage: ExaminingStage) => void,
): Promise<ExaminedPhoto> {
  onStage?.('reading');
  const chart = layoutChart(aspect);
  const read = await readPhoto(path);
  if (read.outcome === 'refused') {
    const { code, facts } = read;
    const examination = { outcome: 'refused', code, facts: { ...facts, file: name } } as const;
    return { sha256: null, width_px: null, height_px: null, examination };
  }
  onStage?.('looking');
  const { sha256, width, height, pixels } = read.photo;
  const look = await examineThoroughly(pixels, chart);
  const examination = look.outcome === 'refused' ? look : judgeShot(look, chart, slot);
  return { sha256, width_px: width, height_px: height, examination };
}

/**
 * The eye whose picture both lenses' photographs show, from which nothing can be measured; null where they differ, or the
 * other eye's picture is strong enough in one of them to be found.
 */
export function findSameEye(left: ShownEye | null | undefined, right: ShownEye | null | undefined): Eye | null {
  if (left?.outcome !== 'usable' || right?.outcome !== 'usable') return null;
  if (left.leak_pct !== null || right.leak_pct !== null) return null;
  return left.shows === right.shows && left.shows !== 'both' ? left.shows : null;
}

type ShownEye =
  | { readonly outcome: 'usable'; readonly shows: Eye | 'both'; readonly leak_pct: number | null }
  | { readonly outcome: 'refused' };
