/** A page of the built interface before the stand-in host, and what it complained of. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Browser, JSHandle, Page } from 'playwright';
import { expect } from 'vitest';
import type { ProcedureName } from '../../src/contract/procedures.ts';
import type { Settings } from '../../src/contract/workspace.ts';
import type { Situation } from './situations.ts';
import { startStandInHost } from './stand-in-host.ts';

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** A machine that does much else at the same time draws slowly. */
const PATIENCE_MS = 60_000;

export interface OpenPage {
  readonly page: Page;
  /** Errors of the console and of scripts; nothing should ever be in it. */
  readonly complaints: readonly string[];
  close(): Promise<void>;
}

export interface Opening {
  readonly situation: Situation;
  /** Current state in the address: `house`, `shots`, … */
  readonly screen: string;
  readonly settings?: Partial<Settings>;
  /** Runs before the page's own. */
  readonly script?: string;
  readonly size?: { readonly width: number; readonly height: number };
}

/** In the browser's one context. INTERFACE names another folder with a built interface than the usual one. */
export async function openPage(browser: Browser, opening: Opening): Promise<OpenPage> {
  const { situation, screen, settings = {}, size = { width: 1280, height: 800 } } = opening;
  const host = await startStandInHost(0, process.env.INTERFACE);
  const context = browser.contexts()[0] ?? (await browser.newContext());
  const page = await context.newPage();
  await page.setViewportSize(size);
  page.setDefaultTimeout(PATIENCE_MS);
  if (opening.script !== undefined) await page.addInitScript(opening.script);
  const complaints: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  page.on('pageerror', (error) => complaints.push(error.message));
  await page.goto(`${host.address(situation)}#/${screen}`);
  await page.getByRole('navigation').waitFor();
  if (Object.keys(settings).length > 0) await callHost(page, 'settings.change', settings);
  return {
    page,
    complaints,
    close: async () => {
      await page.close();
      host.close();
    },
  };
}

/** Asks the stand-in host past the page, as another shell would. */
export async function callHost(page: Page, procedure: ProcedureName, input: object): Promise<unknown> {
  const answer = await page.request.post(new URL(`/call/${procedure}`, page.url()).href, { data: input });
  return answer.json();
}

/** Puts files, made in the page, into a drag's data. Names with the base64 of their bytes. */
export function dataOf(page: Page, files: Readonly<Record<string, string>>): Promise<JSHandle> {
  return page.evaluateHandle(`(() => {
    const data = new DataTransfer();
    for (const [name, text] of Object.entries(${JSON.stringify(files)})) {
      data.items.add(new File([Uint8Array.from(atob(text), (c) => c.charCodeAt(0))], name));
    }
    return data;
  })()`);
}

/** Nothing serious or critical is found by the accessibility scan. */
export async function expectAccessible(page: Page): Promise<void> {
  // Not as a script of the page, which its policy forbids.
  await page.evaluate(AXE);
  const found = (await page.evaluate(
    `axe.run().then(({ violations }) => violations
      .filter(({ impact }) => impact === 'serious' || impact === 'critical')
      .map(({ id, nodes }) => id + ': ' + nodes.map(({ html }) => html).join(' ')))`,
  )) as string[];
  expect(found).toEqual([]);
}

/** Nothing reaches beyond the page's width, so that nobody has to scroll sideways. */
export async function expectNoSidewaysScrolling(page: Page): Promise<void> {
  expect(await page.evaluate('document.documentElement.scrollWidth - innerWidth')).toBeLessThanOrEqual(0);
}
