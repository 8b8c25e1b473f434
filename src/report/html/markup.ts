/**
 * HTML and SVG as values that cannot be confused with text: everything put into a `markup` template is escaped unless
 * it is markup already, so a hostile file name stays a file name.
 */
export class Markup {
  readonly source: string;

  private constructor(source: string) {
    this.source = source;
  }

  static template(strings: TemplateStringsArray, values: readonly Insertable[]): Markup {
    return new Markup(strings.reduce((whole, part, i) => whole + sourceOf(values[i - 1] ?? null) + part));
  }
}

export type Insertable = Markup | string | number | null | readonly Insertable[];

export function markup(strings: TemplateStringsArray, ...values: readonly Insertable[]): Markup {
  return Markup.template(strings, values);
}

/** Safe between tags and inside quoted attributes. */
export function escapeText(text: string): string {
  return text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll("'", '&#39;');
}

function sourceOf(value: Insertable): string {
  if (value === null) return '';
  if (value instanceof Markup) return value.source;
  if (typeof value === 'string') return escapeText(value);
  if (typeof value === 'number') return String(value);
  return value.map(sourceOf).join('');
}

/** A coordinate in a drawing: two decimals are a tenth of what a screen can show. */
export function coordinate(value: number): number {
  return Math.round(value * 100) / 100;
}
