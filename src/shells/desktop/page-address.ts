/**
 * Where the interface lives: an address of our own, which no other program and no network can answer.
 */
export const PAGE_SCHEME = 'twinplumb';
const PAGE_HOST = 'desktop';
export const PAGE_ORIGIN = `${PAGE_SCHEME}://${PAGE_HOST}`;
export const PAGE_ADDRESS = `${PAGE_ORIGIN}/`;

/**
 * Whether an address belongs to our page. The parts are compared, not the origin: for a scheme of its own Node calls
 * every origin `null`.
 */
export function isOurAddress(address: string | undefined): boolean {
  if (address === undefined || !URL.canParse(address)) return false;
  const { protocol, host } = new URL(address);
  return protocol === `${PAGE_SCHEME}:` && host === PAGE_HOST;
}

/** Whether it is data that our own page holds in memory, as for a file that the page itself wrote. */
export function isOurBlob(address: string): boolean {
  return address.startsWith('blob:') && isOurAddress(address.slice('blob:'.length));
}

/** Whether it is the page itself, as against what the page loads and shows. */
export function isPageItself(address: string): boolean {
  return isOurAddress(address) && ['/', '/index.html'].includes(new URL(address).pathname);
}
