/** The live camera: to be drawn. */
import type { ScreenProps } from '../app.tsx';

export function CameraPanel(_: ScreenProps) {
  return null;
}
