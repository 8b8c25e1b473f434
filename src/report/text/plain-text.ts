/**
 * What somebody else wrote, as a terminal may show it: no control characters, which move the cursor or worse, and nothing that
 * turns the direction of writing. Lines and tabs stay.
 */
export function plainText(text: string): string {
  return text.replace(/(?![\n\t])\p{Cc}|[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/gu, '\ufffd');
}
