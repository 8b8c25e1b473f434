/** Evenness in a few sentences, for where a reading of misalignment is what is asked for. */
import type { EvennessPicture, EvennessRecord } from '../record/evenness.ts';
import { formatPercent, nameLitPicture, namePlace } from './light.ts';

/** The verdict, each picture's darkest place, and why the figures are no better known. */
export function summariseLight(record: EvennessRecord): readonly string[] {
  if (record.outcome === 'refused') return [`Not measured: ${record.refusal.message}`];
  const assumed = record.notes.find(({ code }) => code === 'vignetting-assumed');
  return [
    record.sentence,
    ...record.pictures.map(formatDarkest),
    ...(assumed ? [[assumed.message, assumed.remedy].join(' ')] : []),
  ];
}

function formatDarkest({ picture, darkest }: EvennessPicture): string {
  return `Darkest in the ${nameLitPicture(picture)}: the ${namePlace(darkest.place)}, ${formatPercent(darkest)} of the centre’s light.`;
}
