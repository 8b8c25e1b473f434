/** A picture file as far as the workspace looks into it: its first bytes, then whatever makes it another one. */
export function jpeg(content: string): Uint8Array<ArrayBuffer> {
  return new Uint8Array(Buffer.concat([Buffer.from([0xff, 0xd8, 0xff, 0xe0]), Buffer.from(content)]));
}
