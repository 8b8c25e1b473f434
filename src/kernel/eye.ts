/** Which eye's picture, or which lens of the polarized glasses. */
export const EYES = ['left', 'right'] as const;
export type Eye = (typeof EYES)[number];

/**
 * @example
 * otherEye('left'); // 'right'
 */
export function otherEye(eye: Eye): Eye {
  return eye === 'left' ? 'right' : 'left';
}
