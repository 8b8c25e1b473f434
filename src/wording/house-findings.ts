/** What photographs have shown of film and glasses, in words: one line for each. */
import { EYES, type Eye } from '../kernel/eye.ts';
import type { HouseFindings, LensEffect } from '../record/house-findings.ts';
import { formatSigned } from './numbers.ts';
import { translate } from './translate.ts';

export function listHouseFindings({ film, glasses }: HouseFindings): string[] {
  const lines: string[] = [];
  if (film) {
    const { value, u } = film.motion_um;
    lines.push(
      translate('house.learned-film', {
        motion_um: value.toFixed(1),
        expanded_um: (2 * u).toFixed(1),
        photographs: film.photographs,
      }),
    );
  }
  for (const lens of glasses ? EYES : []) lines.push(formatLensEffect(lens, glasses![lens]));
  return lines;
}

/** "The left lens of the glasses shifts the view by …" */
export function formatLensEffect(
  lens: Eye,
  { right_arcmin, up_arcmin, u_arcmin, turn_deg, u_turn_deg }: LensEffect,
): string {
  return translate('house.learned-lens', {
    lens,
    right_arcmin: formatSigned(right_arcmin, 1),
    up_arcmin: formatSigned(up_arcmin, 1),
    expanded_arcmin: (2 * u_arcmin).toFixed(1),
    turn_deg: formatSigned(turn_deg, 3),
    expanded_deg: (2 * u_turn_deg).toFixed(3),
  });
}
