/** Numbers as people read them. Minus is U+2212; whoever writes plain text puts the hyphen back. */

/** Rounds half away from zero to `decimals` places; never gives "−0.00". */
export function formatNumber(value: number, decimals: number): string {
  const scaled = Math.round(Math.abs(value) * 10 ** decimals) / 10 ** decimals;
  const text = scaled.toFixed(decimals);
  return value < 0 && scaled !== 0 ? `−${text}` : text;
}

/** As `formatNumber`, with a plus sign: for displacements, where the sign is half of the statement. */
export function formatSigned(value: number, decimals: number): string {
  const text = formatNumber(value, decimals);
  return text.startsWith('−') || Number(text) === 0 ? text : `+${text}`;
}

/** Places that show two significant figures of the standard uncertainty (GUM 7.2.6), between 0 and 5. */
export function decimalsForUncertainty(u: number): number {
  if (!(u > 0)) return 3;
  const exponent = Math.floor(Math.log10(u));
  // 0.00996 rounds to 0.010: one place fewer.
  const rounded = Number(u.toPrecision(2));
  const decimals = 1 - Math.max(exponent, Math.floor(Math.log10(rounded)));
  return Math.min(5, Math.max(0, decimals));
}

/** The amount in two figures, in fewer where twice its uncertainty hides them: for columns of lengths and angles. */
export function formatAmountWithin(value: number, u: number): string {
  return formatFigures(Math.abs(value), 2, Math.min(2, decimalsForUncertainty(2 * u)));
}

/** `significant` figures without exponent notation: 14.2 px, 0.41 %, 412; never more than `mostDecimals` places. */
export function formatFigures(value: number, significant = 2, mostDecimals = 8): string {
  if (value === 0) return '0';
  const rounded = Number(value.toPrecision(significant));
  const decimals = significant - 1 - Math.floor(Math.log10(Math.abs(rounded)));
  return formatNumber(rounded, Math.min(mostDecimals, Math.max(0, decimals)));
}

/** A number that was set, not measured: as written, without zeros at its end. */
export function formatGiven(value: number): string {
  return String(Number(value.toPrecision(4))).replace('-', '−');
}
