/**
 * The frame of every report: one self-contained HTML document in which nothing is loaded from anywhere and nothing runs, and
 * the sections that it is made of. The pages are components, like the screens, and become markup here.
 */
import { Fragment, type ReactNode } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { makeSafe } from '../../wording/make-safe.ts';
import { translate } from '../../wording/translate.ts';
import { type Paper, STYLE, stylePages } from './style.ts';

export interface ReportDocument {
  readonly title: string;
  readonly body: ReactNode;
  readonly paper?: Paper | undefined;
  /** Stands at the head of every page, left and right, and at its foot on the left. */
  readonly running: { readonly left: string; readonly right: string; readonly foot: string };
}

/** Only inline pictures and the document's own style are allowed; scripts and the network are not. */
const POLICY = "default-src 'none'; img-src data:; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'";

export function renderDocument({ title, body, paper = 'a4', running }: ReportDocument): string {
  // The style is our own constant text and escaped strings; inside <style> nothing is unescaped by the browser.
  const style = { __html: STYLE + stylePages(paper, running) };
  const markup = renderToStaticMarkup(
    <html lang="en">
      <head>
        <meta charSet="utf-8" />
        <meta name="generator" content="Twinplumb" />
        <meta httpEquiv="Content-Security-Policy" content={POLICY} />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <title>{`${title} – Twinplumb`}</title>
        <style dangerouslySetInnerHTML={style} />
      </head>
      <body>{body}</body>
    </html>,
  );
  return `<!doctype html>\n${makeSafe(markup, 'page')}\n`;
}

/** What kind of report this is, of which house and of when. */
export function Origin({ kind, facts }: { readonly kind: string; readonly facts: readonly (string | null)[] }) {
  return (
    <header className="origin">
      <b>{kind}</b>
      {facts
        .filter((fact) => fact !== null)
        .map((fact) => (
          <span key={fact}>{fact}</span>
        ))}
    </header>
  );
}

export interface SectionProps {
  readonly title: string;
  readonly note?: ReactNode;
  /** For tables that need the whole width: the heading stands above them, else in the margin. */
  readonly isWide?: boolean;
  readonly children: ReactNode;
}

export function Section({ title, note, isWide, children }: SectionProps) {
  return (
    <section className={isWide ? 'wide' : undefined}>
      <header>
        <h2>{title}</h2>
        {note && <p>{note}</p>}
      </header>
      <div className="body">{children}</div>
    </section>
  );
}

export type Fact = readonly [string, ReactNode];

export function Facts({ facts }: { readonly facts: readonly Fact[] }) {
  return (
    <dl className="facts">
      {facts.map(([name, value], i) => (
        <Fragment key={i}>
          <dt>{name}</dt>
          <dd>{value}</dd>
        </Fragment>
      ))}
    </dl>
  );
}

export function List({ items }: { readonly items: readonly ReactNode[] }) {
  return (
    <ul>
      {items.map((item, i) => (
        <li key={i}>{item}</li>
      ))}
    </ul>
  );
}

export function Cautions({ cautions }: { readonly cautions: readonly string[] }) {
  return (
    <Section title={translate('report.safety')}>
      <div className="cautions">
        <h3>{translate('report.safety-head')}</h3>
        <List items={cautions} />
      </div>
    </Section>
  );
}
