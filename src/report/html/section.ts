/** A section of the report: its heading and a short note in the margin, its contents beside them. */
import { type Insertable, type Markup, markup } from './markup.ts';

/** For tables that need the whole width: the heading stands above them. */
export function drawWideSection(title: string, note: Insertable, ...body: readonly Insertable[]): Markup {
  return markup`<section class="wide"><header><h2>${title}</h2>${note === null ? null : markup`<p>${note}</p>`}</header><div class="body">${body}</div></section>`;
}

export function drawSection(title: string, note: Insertable, ...body: readonly Insertable[]): Markup {
  return markup`<section><header><h2>${title}</h2>${note === null ? null : markup`<p>${note}</p>`}</header><div class="body">${body}</div></section>`;
}
