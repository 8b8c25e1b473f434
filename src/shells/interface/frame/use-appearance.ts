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
