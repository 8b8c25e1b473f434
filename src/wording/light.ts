/** What evenness and light budgets have in common in words: places, pictures, luminances, limits. */
import type { LightPlace, LitPictureName, RecordedLightFinding } from '../record/light-finding.ts';
import { decimalsForUncertainty, formatFigures, formatGiven, formatNumber } from './numbers.ts';

interface Measured {
  readonly value: number;
  readonly u: number;
}
interface Luminance {
  readonly cd_m2: Measured;
  readonly fL: Measured;
}

const PLACES: Readonly<Record<LightPlace, string>> = {
  centre: 'centre',
  left: 'left side',
  right: 'right side',
  top: 'top',
  bottom: 'bottom',
  'top-left': 'upper left corner',
  'top-right': 'upper right corner',
  'bottom-left': 'lower left corner',
  'bottom-right': 'lower right corner',
};

/** "upper left corner", as the audience sees it. */
export function namePlace(place: LightPlace): string {
  return PLACES[place];
}

const PICTURES: Readonly<Record<LitPictureName, string>> = {
  'left-eye': 'left-eye picture',
  'right-eye': 'right-eye picture',
  'left-lens': 'light through the left lens',
  'right-lens': 'light through the right lens',
  bare: 'whole light',
};

export function nameLitPicture(picture: LitPictureName): string {
  return PICTURES[picture];
}

const SHORT: Readonly<Record<LitPictureName, string>> = {
  'left-eye': 'left eye',
  'right-eye': 'right eye',
  'left-lens': 'left lens',
  'right-lens': 'right lens',
  bare: 'whole light',
};

/** For columns of tables. */
export function shortenLitPicture(picture: LitPictureName): string {
  return SHORT[picture];
}

/** "14.2 ± 0.9 cd/m² (4.1 fL)": the 95 % interval. */
export function formatLuminance({ cd_m2, fL }: Luminance): string {
  const decimals = Math.min(2, decimalsForUncertainty(cd_m2.u));
  const interval = cd_m2.u > 0 ? ` ± ${formatNumber(2 * cd_m2.u, decimals)}` : '';
  return `${formatNumber(cd_m2.value, decimals)}${interval} cd/m² (${formatFigures(fL.value, 2)} fL)`;
}

/** "81.3 ± 1.2 %". */
export function formatPercent({ value, u }: Measured): string {
  const decimals = Math.min(1, decimalsForUncertainty(u));
  return u > 0
    ? `${formatNumber(value, decimals)} ± ${formatNumber(2 * u, decimals)} %`
    : `${formatNumber(value, 0)} %`;
}

const FINDINGS: Readonly<Record<RecordedLightFinding['code'], string>> = {
  'centre-film-open-gate': 'Centre, gate open',
  'centre-film-older-british': 'Centre, older British practice',
  'centre-digital': 'Centre, digital',
  'at-the-eye': 'Light at the eye',
  'edge-film': 'Darkest side or corner',
  'sides-digital': 'Sides, digital',
  'balance-comfort': 'Eyes alike enough for comfort',
  'balance-depth': 'Eyes alike enough for depth',
};

export function nameLightFinding(code: RecordedLightFinding['code']): string {
  return FINDINGS[code];
}

const VERDICTS = { within: 'inside', outside: 'outside', undecided: 'too close' } as const;

export function formatLightVerdict(verdict: RecordedLightFinding['verdict']): string {
  return VERDICTS[verdict];
}

/** "68 % (upper left corner), at least 75 %". */
export function formatLightFinding({ value, limit, side, unit, place, code }: RecordedLightFinding): string {
  const sign = unit === 'pct' ? ' %' : ' cd/m²';
  const where = code === 'edge-film' && place !== null ? ` (${namePlace(place)})` : '';
  const asked = side === 'at-least' ? 'at least' : 'at most';
  return `${formatFigures(value, 2, 1)}${sign}${where}, ${asked} ${formatGiven(limit)}${sign}`;
}

const BASES = {
  published: null,
  computed: null,
  'as-reported': 'as reported by others',
  'common-practice': 'common practice',
  'from-memory': 'from memory, unconfirmed',
  house: 'of this house',
} as const;

/** A source with the flag that it always carries. */
export function formatLightSource(source: string, basis: keyof typeof BASES): string {
  const flag = BASES[basis];
  return flag === null || source.includes(flag) ? source : `${source} (${flag})`;
}

const WORST_FIRST = { outside: 0, undecided: 1, within: 2 } as const;

/** The same limit for both eyes: the worse verdict, and then the one nearer to its limit. */
export function worstLightFinding(
  findings: readonly RecordedLightFinding[],
  code: RecordedLightFinding['code'],
): RecordedLightFinding | undefined {
  const distance = ({ value, limit, side }: RecordedLightFinding) =>
    side === 'at-least' ? value - limit : limit - value;
  return findings
    .filter((finding) => finding.code === code)
    .toSorted((a, b) => WORST_FIRST[a.verdict] - WORST_FIRST[b.verdict] || distance(a) - distance(b))[0];
}
