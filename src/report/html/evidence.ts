/** The same small pieces of both photographs, at full resolution. */
import { type Markup, markup } from './markup.ts';
import type { CropPlace, EvidenceCrop } from './pictures.ts';
import { drawSection } from './section.ts';

const PLACES: Readonly<Record<CropPlace, string>> = {
  'worst-residual': 'Mark that fits worst',
  centre: 'Centre',
  'upper-left': 'Upper left corner',
  'upper-right': 'Upper right corner',
  'lower-left': 'Lower left corner',
  'lower-right': 'Lower right corner',
};

export function drawEvidence(crops: readonly EvidenceCrop[]): Markup {
  return drawSection(
    'Evidence',
    'Pieces of both photographs, pixel for pixel. Each lens should show the marks of its own eye only.',
    markup`<div class="crops">${crops.map(drawCrop)}</div>`,
  );
}

function drawCrop({ place, markId, dataUri }: EvidenceCrop): Markup {
  const image = (role: 'left-lens' | 'right-lens') =>
    markup`<div class="${role === 'left-lens' ? 'l' : 'r'}"><img src="${dataUri[role]}" alt="${PLACES[place]}, through the ${role === 'left-lens' ? 'left' : 'right'} lens"></div>`;
  return markup`<figure><div class="both">${image('left-lens')}${image('right-lens')}</div><figcaption><span><b>${PLACES[place]}</b>, mark ${markId}</span><span>left lens | right lens</span></figcaption></figure>`;
}
