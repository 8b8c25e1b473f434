/** Files that Finder, Explorer and their like leave in every folder that somebody looks into. Nobody put them there. */
const LITTER =
  /^(\.DS_Store|\._.*|\.Spotlight-V100|\.Trashes|\.TemporaryItems|\.fseventsd|\.directory|Icon\r|Thumbs\.db|ehthumbs(_vista)?\.db|desktop\.ini|\$RECYCLE\.BIN|System Volume Information)$/i;

export function isLitter(name: string): boolean {
  return LITTER.test(name);
}
