import type { LayerProfile } from '../solid/index.ts';

/** Largest growth of the section from one layer to the next, and the layer that is larger; the first layer grows from nothing. */
export function largestJump({ areaMm2 }: LayerProfile): { jumpMm2: number; layer: number } {
  let found = { jumpMm2: 0, layer: 0 };
  areaMm2.forEach((area, layer) => {
    const jumpMm2 = area - (layer > 0 ? areaMm2[layer - 1] : 0);
    if (jumpMm2 > found.jumpMm2) found = { jumpMm2, layer };
  });
  return found;
}

/** Volume under a profile, mm3. */
export const volumeOf = ({ areaMm2, layerMm }: LayerProfile): number => areaMm2.reduce((sum, area) => sum + area, 0) * layerMm;
