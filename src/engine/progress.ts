/** How much of a job lies behind when a stage of it begins. */
import type { ExaminingStage } from '../application/shot/examine-photo.ts';
import type { MeasuringStage } from '../application/measure-pair.ts';

/** Shares of the time of two 12-megapixel photographs on a warm engine. */
export const MEASURING: Readonly<Record<MeasuringStage, number>> = {
  reading: 0,
  looking: 0.55,
  comparing: 0.82,
  fitting: 0.9,
  advising: 0.98,
};

export const EXAMINING: Readonly<Record<ExaminingStage, number>> = { reading: 0, looking: 0.5 };
