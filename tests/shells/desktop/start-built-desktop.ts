/** Starts the built desktop program in this process, on a stand-in for its runtime. */
import { createRequire, register } from 'node:module';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { ElectronStandIn } from './electron-stand-in.ts';

export const ROOT = join(import.meta.dirname, '..', '..', '..');
const BUNDLE = join(ROOT, 'out', 'node', 'desktop.js');
const STAND_IN = Symbol.for('stand-in for the runtime');

const importNatively: (address: string) => Promise<unknown> = createRequire(import.meta.url)('./import-natively.cjs');

/** `electron` becomes a module whose exports are those of the stand-in of the moment. */
function redirectRuntime(names: readonly string[]): void {
  const source = [
    `const { module } = globalThis[Symbol.for('${STAND_IN.description}')];`,
    ...names.map((name) => `export const ${name} = module.${name};`),
  ].join('\n');
  const hooks = `
    const source = ${JSON.stringify(source)};
    export const resolve = (specifier, context, next) => {
      if (specifier !== 'electron') return next(specifier, context);
      const start = new URL(context.parentURL).search;
      return { url: 'data:text/javascript,' + encodeURIComponent('// ' + start + '\\n' + source), shortCircuit: true };
    };`;
  register(`data:text/javascript,${encodeURIComponent(hooks)}`);
}

let starts = 0;

/** The program has run to its end where it waits for the runtime; `begin()` of the stand-in lets it go on. */
export async function startBuiltDesktop(runtime: ElectronStandIn): Promise<void> {
  if (starts === 0) redirectRuntime(Object.keys(runtime.module));
  starts++;
  Object.assign(globalThis, { [STAND_IN]: runtime });
  await importNatively(`${pathToFileURL(BUNDLE).href}?start=${starts}`);
}

/** Lets the program open its window and waits for it. */
export async function untilWindow(runtime: ElectronStandIn, patience_ms = 90_000) {
  runtime.begin();
  const late = Date.now() + patience_ms;
  for (;;) {
    const window = runtime.windows.find(({ isShown }) => isShown);
    if (window) return window;
    if (runtime.errors.length > 0) throw new Error(runtime.errors.flat().join(': '));
    if (Date.now() > late) throw new Error('the window did not open');
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
}

/** Asks the program to end, and waits until it has put everything away. */
export async function untilEnd(runtime: ElectronStandIn, patience_ms = 90_000): Promise<void> {
  runtime.quit();
  const late = Date.now() + patience_ms;
  while (!runtime.hasQuit) {
    if (Date.now() > late) throw new Error('the program did not end');
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
}
