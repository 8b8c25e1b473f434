/** Size of an element in CSS pixels and device pixels for one of them, followed as it changes. */
import { type RefObject, useLayoutEffect, useState } from 'react';
import type { Size } from './viewport.ts';

export interface StageSize extends Size {
  readonly density: number;
}

export function useStageSize(ref: RefObject<HTMLElement | null>): StageSize | undefined {
  const [size, setSize] = useState<StageSize>();
  useLayoutEffect(() => {
    const element = ref.current!;
    const measure = () => {
      const { clientWidth: width, clientHeight: height } = element;
      if (width > 0 && height > 0) setSize({ width, height, density: window.devicePixelRatio || 1 });
    };
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    return () => observer.disconnect();
  }, [ref]);
  return size;
}
