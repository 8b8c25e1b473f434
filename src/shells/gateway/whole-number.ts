/** Numbers as they stand in addresses. */

const WIDEST_VIEW_PX = 16384;

export function wholeNumber(text: string | null): number | undefined {
  return text !== null && /^\d{1,9}$/.test(text) ? Number(text) : undefined;
}

export function viewWidth({ searchParams }: URL): number | undefined | 'wrong' {
  const given = searchParams.get('width');
  if (given === null) return undefined;
  const width = wholeNumber(given);
  return width !== undefined && width >= 1 && width <= WIDEST_VIEW_PX ? width : 'wrong';
}
