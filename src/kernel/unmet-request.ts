/**
 * A request that nothing can be made from, though each of its values is sound by itself: thrown to the caller who chose the
 * values together. Whoever talks to a person words the code; the message is for programmers.
 */
export class UnmetRequest extends RangeError {
  readonly code: string;
  readonly facts: Readonly<Record<string, number | string>>;

  constructor(code: string, facts: UnmetRequest['facts'] = {}, message: string = code) {
    super(message);
    this.code = code;
    this.facts = facts;
  }
}
