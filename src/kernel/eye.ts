/** Which eye's picture, or which lens of the polarized glasses. */
export type Eye = 'left' | 'right';

export const EYES: readonly Eye[] = ['left', 'right'];

export function otherEye(eye: Eye): Eye {
  return eye === 'left' ? 'right' : 'left';
}
