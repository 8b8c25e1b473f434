/** Theme and size of letters, as they were chosen, on the root of the page. */
import { useEffect } from 'react';
import type { Settings } from '../../../contract/workspace.ts';

export function useAppearance(settings: Settings | undefined): void {
  const { theme, text_size_pct } = settings ?? {};
  useEffect(() => {
    const { documentElement: root } = document;
    if (theme !== undefined) root.dataset.theme = theme;
    if (text_size_pct !== undefined) root.style.fontSize = `${text_size_pct}%`;
  }, [theme, text_size_pct]);
}

/** The sizes of letters to choose from, in percent of the usual one. */
export const TEXT_SIZES_PCT = [100, 125, 150, 175, 200] as const;

/** The next size up (`1`) or down (`-1`); the same where there is none. */
export function stepTextSize(current_pct: number, step: 1 | -1): number {
  const further = TEXT_SIZES_PCT.filter((size) => (step > 0 ? size > current_pct : size < current_pct));
  return (step > 0 ? further[0] : further.at(-1)) ?? current_pct;
}
