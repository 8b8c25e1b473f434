/** Whether the system asks for as little motion as possible; followed as it changes. */
import { useSyncExternalStore } from 'react';

const query = () => matchMedia('(prefers-reduced-motion: reduce)');

export function useReducedMotion(): boolean {
  return useSyncExternalStore(
    (onChange) => {
      const list = query();
      list.addEventListener('change', onChange);
      return () => list.removeEventListener('change', onChange);
    },
    () => query().matches,
  );
}
