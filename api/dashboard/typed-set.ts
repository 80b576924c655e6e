import type { ParameterSetInput } from '../../openapi/index.ts';

/** A ball that meets a size 1 handball's mass and size. */
export const START: ParameterSetInput = {
  carrier: { shape: 'sphere', outsideDiameterMm: 162.3 },
  tiling: { kind: 'goldberg', m: 3, n: 3, relaxation: 'equal-edges', orientation: 'split-plane' },
  layers: [
    { depthMm: 0, strutDiameterMm: 4.7 },
    { depthMm: 14, strutDiameterMm: 4 },
  ],
  links: { pattern: 'posts', strutDiameterMm: 4 },
};

/** Pointers of the faults that stand at a field of their own. */
export const FIELDS = /^\/(?:carrier\/outsideDiameterMm|tiling\/[mn]|layers\/\d\/(?:strutDiameterMm|depthMm)|links\/strutDiameterMm)$/;

export const at = (set: unknown, path: string): unknown =>
  path.split('.').reduce<unknown>((value, key) => (value as Record<string, unknown> | undefined)?.[key], set);

export function withValue<T>(set: T, path: string, value: unknown): T {
  const copy = structuredClone(set) as Record<string, unknown>;
  const keys = path.split('.');
  const last = keys.pop()!;
  const inside = keys.reduce((each, key) => (each[key] ??= {}) as Record<string, unknown>, copy);
  if (value === undefined) delete inside[last];
  else inside[last] = value;
  return copy as T;
}

/** A layer more or less, with links where there is something to link. */
export function deeper(set: ParameterSetInput): ParameterSetInput {
  const last = set.layers.at(-1)!;
  const layers = [...set.layers, { ...last, depthMm: last.depthMm + 10 }];
  return {
    ...set,
    layers,
    links: set.links?.pattern === 'none' || !set.links ? { pattern: 'posts', strutDiameterMm: last.strutDiameterMm } : set.links,
  };
}
export function shallower(set: ParameterSetInput): ParameterSetInput {
  const layers = set.layers.slice(0, -1);
  return { ...set, layers, links: layers.length === 1 ? { pattern: 'none' } : set.links };
}
