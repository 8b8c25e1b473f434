/**
 * What a room returns when the input allows no honest answer. A refusal is data: a code and the numbers behind it.
 * The sentence and the remedy are worded by whoever talks to a person.
 */
export interface Refusal<Code extends string> {
  readonly outcome: 'refused';
  readonly code: Code;
  /** Numbers and names that the sentence needs, with their unit in the key: `{ blur_px: 9.3, limit_px: 6 }`. */
  readonly facts: Readonly<Record<string, number | string>>;
}

/**
 * @example
 * refuse('blurred', { blur_px: 9.3, limit_px: 6 });
 */
export function refuse<Code extends string>(code: Code, facts: Refusal<Code>['facts'] = {}): Refusal<Code> {
  return { outcome: 'refused', code, facts };
}
